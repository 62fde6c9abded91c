import { recordingBenches } from './benches.js';

recordingBenches({ racing: 8, kills: 5 });
