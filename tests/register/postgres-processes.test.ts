import { issuingProcesses } from './postgres-processes.js';

issuingProcesses({ each: 25, kills: 2 });
