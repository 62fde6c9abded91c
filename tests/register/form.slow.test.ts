import { formRules } from './form.js';

formRules({ every: 1 });
