import { issuingProcesses } from './processes.js';

issuingProcesses({ each: 100, kills: 3 });
