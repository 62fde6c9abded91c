import { issuingProcesses } from './postgres-processes.js';

issuingProcesses({ each: 150, kills: 6 });
