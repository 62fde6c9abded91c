import { issuingProcesses } from './processes.js';

issuingProcesses({ each: 500, kills: 8 });
