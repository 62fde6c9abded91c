// One process that takes each number once round, from the built program: FILE NAME UP-TO.
// It says which it is about to engrave and which it was given, each line written before it goes on.
import { writeSync } from 'node:fs';
import { openRegister } from '../../dist/register/open.js';

const [file, name, upTo] = process.argv.slice(2);
const register = await openRegister({ kind: 'sqlite', file }, { now: () => new Date() });
for (let number = 1; number <= Number(upTo); number++) {
  const of = { edition: 'nine-lights', series: 'main', number, label: `${number}/90` };
  writeSync(1, `asked ${number}\n`);
  try {
    await register.record({ ...of, event: 'engraved', by: name, key: `${name}-${number}` });
    writeSync(1, `given ${number}\n`);
  } catch (error) {
    if (error.problems?.[0].code !== 'register.part-not-blank') throw error;
  }
}
await register.close();
