import { issuingProcesses } from './postgres-processes.js';

issuingProcesses({ each: 100, kills: 6 });
