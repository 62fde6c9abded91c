import { join } from 'node:path';
import { describe, expect, test } from 'vitest';
import { writeCertificates } from '../../src/app/certificate.js';
import { closeEdition } from '../../src/app/close.js';
import { showKey } from '../../src/app/key.js';
import { verifyFile } from '../../src/app/verify.js';
import { listWithdrawals } from '../../src/app/withdrawals.js';
import { openWorkshop } from '../../src/app/workshop.js';
import { onServer } from '../register/postgres-open.js';
import { STORES } from './either-store.js';
import { auditOf, goesOn } from './resume-rules.js';
import { BAD_ENTRIES } from './resume-ways.js';
import { cleanAfterEach, newFolder } from './workshop.js';

cleanAfterEach();
const server = onServer();

describe.each(STORES)('a register on %s goes on past', (_name, store) => {
  test.each(Object.keys(BAD_ENTRIES))('%s', async (what) => {
    await goesOn(what, store, server);
  });
});

test.each(STORES)(
  'certificates, withdrawals and a statement are made past a bad entry on %s',
  async (_name, store) => {
    const { workshop } = await goesOn('the same of a free number', store, server);
    const whole = await openWorkshop(workshop.dir, workshop.environment);
    const out = join(newFolder(), 'papers');
    const { certificates } = await writeCertificates(whole, {
      edition: 'nine-lights',
      labels: ['01/90'],
      out,
    });
    const key = join(out, 'maker.pub');
    await showKey({ workshop: workshop.dir, environment: workshop.environment }, key);
    const verified = await verifyFile({ file: join(out, certificates[0]!.json), key });
    expect(verified.certificate.label).toBe('01/90');
    const { note } = await listWithdrawals(workshop);
    expect(note).not.toContain('withdrawn ');
    const order = { edition: 'nine-lights', by: 'A. Moss', leaveOpen: true, out: join(out, 'statement') };
    const { statement } = await closeEdition(workshop, order);
    expect(statement.remarks).toContainEqual(
      expect.stringMatching(
        /^event 5: It is passed over, since event 6\. Entered by E\. Marrow, confirmed by A\. Moss/,
      ),
    );
    expect(await auditOf(workshop)).toMatchObject({ faults: [], remarks: ['passed-over'] });
  },
);
