import { modelTests } from './model-stores.js';

// Longer: `MODEL_SEQUENCES=200 npx vitest run --mode slow tests/register/model.slow`.
modelTests(Number(process.env.MODEL_SEQUENCES ?? 50), ['bench', 'keeper']);
