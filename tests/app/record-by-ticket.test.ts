import { expect, test } from 'vitest';
import { issueNumbers } from '../../src/app/issue.js';
import { registerOf } from '../../src/app/register.js';
import { ticketOf } from '../../src/edition/ticket.js';
import { linesOf } from '../words-of.js';
import { cleanAfterEach, newWorkshopCopy, recordEvent, refusalOf } from './workshop.js';

cleanAfterEach();

test('an event is recorded by ticket as by label, and a slip of either is told', async () => {
  const workshop = await newWorkshopCopy();
  await issueNumbers(workshop, { edition: 'nine-lights', series: 'main', count: 2, by: 'A. Moss' });
  const record = (label: string) =>
    recordEvent(workshop, { edition: 'nine-lights', label, event: 'engraved', by: 'A. Moss' });
  const [first, second] = await registerOf(workshop, 'nine-lights');
  expect(first!.ticket).toBe(ticketOf('nine-lights', 'main', 1));
  expect(await record(first!.ticket)).toMatchObject({ label: '01/90', state: 'engraved' });
  expect(await record('02/90')).toMatchObject({ label: '02/90', state: 'engraved' });
  const mistyped = await refusalOf(record(second!.ticket.replace('0002', '0020')));
  expect([mistyped.exit, linesOf(mistyped)]).toEqual([
    2,
    expect.stringMatching(/check character does not match/),
  ]);
  expect(linesOf(await refusalOf(record('O1/90')))).toMatch(/Did you mean 01\/90 \(O and 0\)\?/);
});
