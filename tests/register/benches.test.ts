import { recordingBenches } from './benches.js';

recordingBenches({ racing: 4, kills: 3 });
