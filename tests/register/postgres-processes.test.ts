import { issuingProcesses } from './postgres-processes.js';

issuingProcesses({ each: 20, kills: 2 });
