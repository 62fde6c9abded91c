import { createHash } from 'node:crypto';
import { existsSync, readdirSync, readFileSync } from 'node:fs';
import { dirname } from 'node:path';
import { expect, test } from 'vitest';
import { statementFile } from '../../src/app/statement-file.js';
import { STORES } from '../app/either-store.js';
import { auditOf, begun } from '../app/resume-rules.js';
import { cleanAfterEach, onRegister } from '../app/workshop.js';
import { onServer } from '../register/postgres-open.js';
import { started } from './burin.js';

cleanAfterEach();
const server = onServer();
const edition = 'nine-lights';
// Each has a store of its own, and a server keeps so many connections: more are asked for on SQLite alone.
const KILLS = Number(process.env.CLOSE_KILLS ?? 14);
const CLOSE = ['close', edition, '--by', 'E. Marrow', '--leave-open'];

test.each(STORES)(
  'a closing killed at any moment on %s is whole or is not, and is finished by asking again',
  async (_name, store) => {
    const seen = { open: 0, closed: 0, whole: 0 };
    let longest = 2000;
    for (let i = 0; i < KILLS; i++) {
      const { workshop } = await begun(store, server);
      const { dir, environment } = workshop;
      const env = {
        BURIN_KEYS: environment.keysFolder,
        ...(environment.registerUrl !== undefined && { BURIN_REGISTER: environment.registerUrl }),
      };
      const json = statementFile(dir, edition);
      // The moments spread over the whole command, from its start to beyond its end.
      const after = (longest * (i + 1)) / KILLS;
      const began = performance.now();
      let timer: NodeJS.Timeout | undefined;
      const { signal } = await started(CLOSE, {
        ...{ cwd: dir, env },
        begun: (kill) => {
          timer = setTimeout(kill, after);
        },
      });
      clearTimeout(timer);
      if (signal !== 'SIGKILL') longest = Math.min(longest, performance.now() - began);
      const closed = await onRegister(workshop, (register) => register.isClosed(edition));
      // Under its name a statement is only there once the register has its hash.
      if (!closed) expect(existsSync(json)).toBe(false);
      seen[closed ? (existsSync(json) ? 'whole' : 'closed') : 'open']++;

      const again = await started(CLOSE, { cwd: dir, env });
      const left = `killed after ${Math.round(after)} ms: ${again.stderr}`;
      if (again.code !== 0) expect(again.stderr, left).toContain('closed already');
      const found = (await onRegister(workshop, (register) => register.closing(edition)))!;
      expect(found.agreement.is, left).toBe('agrees');
      const bytes = readFileSync(json);
      expect(createHash('sha256').update(bytes).digest('hex'), left).toBe(found.event.statement);
      expect(readdirSync(dirname(json)).sort(), left).toEqual([
        'statement-of-edition.json',
        'statement-of-edition.txt',
      ]);
      expect((await auditOf(workshop)).faults, left).toEqual([]);
    }
    console.log(`${KILLS} kills of a closing:`, seen);
    expect(seen.open).toBeGreaterThan(0);
    expect(seen.closed + seen.whole).toBeGreaterThan(0);
  },
);
