import { fileURLToPath } from 'node:url';
import { rolldown } from 'rolldown';

const at = (path) => fileURLToPath(new URL(path, import.meta.url));

/** A PostgreSQL of the tests' kind, with one empty database; its data goes when it ends. */
export async function startServer() {
  const bundle = await rolldown({
    input: at('../register/postgres-server.ts'),
    platform: 'node',
    external: /^[^./]/,
  });
  const file = at('../../dist/bench-server.js');
  await bundle.write({ file });
  const { startServer, withPassword } = await import(file);
  const server = await startServer();
  return { url: withPassword(await server.fresh()), end: () => server.end() };
}
