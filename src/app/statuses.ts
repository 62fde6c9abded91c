import type { NumberStatus } from '../register/lifecycle.js';
import { openRegister } from '../register/open.js';
import { registerDeps } from './issue.js';
import { editionOf, registerPlace, type Workshop } from './workshop.js';

/** The status of every number of an edition that the register knows, by label. */
export async function statusesOf(workshop: Workshop, editionId: string): Promise<Map<string, NumberStatus>> {
  editionOf(workshop, editionId);
  const register = await openRegister(registerPlace(workshop), registerDeps);
  try {
    return new Map((await register.statuses(editionId)).map((status) => [status.label, status]));
  } finally {
    await register.close();
  }
}
