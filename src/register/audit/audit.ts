import { setImmediate } from 'node:timers/promises';
import { Refusal } from '../../problem.js';
import type { RawEvent, Register } from '../register.js';
import { NO_RESUMPTIONS } from '../resumption/resumptions.js';
import { AuditRun } from './audit-run.js';
import { Findings } from './finding.js';
import { problem } from './messages.js';
import type { AuditOrder, AuditReport } from './report.js';

/** What an audit reads of a register. */
export type AuditedRegister = Pick<Register, 'size' | 'events' | 'checkpoints'> &
  Partial<Pick<Register, 'faults' | 'resumptions' | 'closings' | 'eventBatches'>>;

/** Events between two looks at whether the audit is still wanted. */
const STRIDE = 5000;

/** Checks every event of a register, from the first. Throws only when it is called off. */
export async function audit(register: AuditedRegister, order: AuditOrder): Promise<AuditReport> {
  const findings = new Findings();
  const [unread, ...more] = order.documentFaults ?? [];
  if (unread) {
    const values = { place: unread.where, fault: unread, more: more.length };
    const found = problem('audit.documents-not-read', 'documents', values);
    // A register by itself is looked at as far as it goes; documents that are there and cannot be read are not looked at.
    if (order.documentsAbsent) findings.remark(found);
    else findings.fault(found);
  }
  if (order.missing) findings.fault(order.missing);
  let readable = true;
  const met = new Set<string>();
  const orFinding = async <T>(work: () => Promise<T>): Promise<T | undefined> => {
    try {
      return await work();
    } catch (error) {
      if (!(error instanceof Refusal)) throw error;
      for (const found of error.problems) {
        // The same trouble is met by each thing that is read.
        const same = JSON.stringify(found);
        if (!met.has(same)) findings.fault(found);
        met.add(same);
      }
      readable = false;
      return undefined;
    }
  };
  const resumptions = await orFinding(async () => register.resumptions?.());
  const checkpoints = await orFinding(() => register.checkpoints('all'));
  const closings = await orFinding(async () => register.closings?.());
  const run = new AuditRun(order, findings, checkpoints, closings ?? [], resumptions ?? NO_RESUMPTIONS);
  const of = (await orFinding(() => register.size())) ?? 0;
  await orFinding(async () => {
    for await (const batch of register.eventBatches?.() ?? singly(register.events())) {
      const before = run.size;
      for (const event of batch) run.add(event);
      if (Math.floor(run.size / STRIDE) === Math.floor(before / STRIDE)) continue;
      order.progress?.(run.size, of);
      await setImmediate();
      order.signal?.throwIfAborted();
    }
  });
  if (run.readsAgain)
    await orFinding(async () => {
      for await (const event of register.events()) run.addAgain(event);
    });
  if (run.size < of && !readable)
    findings.fault(problem('audit.unreadable-from', 'register', { seq: run.size }));
  order.progress?.(run.size, of);
  order.signal?.throwIfAborted();
  if (!order.eventsOnly)
    for (const damage of (await orFinding(async () => register.faults?.(order.signal))) ?? [])
      findings.fault(damage);
  const report = await run.conclude(async (seq) => {
    for await (const { body } of register.events(seq)) return JSON.parse(body) as object;
    return {};
  });
  return { ...report, replayable: readable && report.replayable };
}

async function* singly(events: AsyncIterable<RawEvent>): AsyncGenerator<readonly RawEvent[]> {
  for await (const event of events) yield [event];
}
