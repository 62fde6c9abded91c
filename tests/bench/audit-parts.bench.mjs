import { createHash } from 'node:crypto';
import { RequestIndex } from '../../dist/register/audit/request-index.js';
import { fromLeaf, toLeaf } from '../../dist/register/event.js';
import { leafHashText, MerkleAccumulator } from '../../dist/register/log/merkle-accumulator.js';
import { parseEventFast } from '../../dist/register/parse-event-fast.js';
import { spread } from './rounds.mjs';

const EVENTS = 200_000;

export const title = `three parts of an audit against their plain counterparts, ${EVENTS} events each, ms of cpu`;

const madeLeaves = () =>
  Array.from({ length: EVENTS }, (_, seq) =>
    toLeaf({
      ...{ type: 'issued', why: 'next free number', parts: ['barrel', 'cap'] },
      ...{ edition: 'lights', series: 'main', number: 1 + (seq % 90_000), label: `${1 + (seq % 90_000)}/90` },
      ...{ by: 'A. Moss', key: keyOf(seq), nth: 1, salt: 'AAAAAAAAAAAAAAAAAAAAAA' },
      at: new Date(Date.UTC(2021, 0, 1) + seq * 1000).toISOString(),
    }),
  );
const keyOf = (seq) => `job-${seq}`;

/** The plain tree: RFC 9162, 2.1.1, on buffers throughout. */
function bufferRoot({ leaves }) {
  const roots = [];
  let size = 0;
  const pair = (left, right) => createHash('sha256').update('\u0001').update(left).update(right).digest();
  for (const { body } of leaves) {
    let node = createHash('sha256').update('\0').update(body, 'utf8').digest();
    for (let left = size; left % 2 === 1; left = (left - 1) / 2) node = pair(roots.pop(), node);
    roots.push(node);
    size++;
  }
  return roots.reduceRight((right, left) => pair(left, right)).toString('hex');
}

function textRoot({ leaves }) {
  const tree = new MerkleAccumulator();
  for (const { body } of leaves) tree.addText(leafHashText(body));
  return tree.root().toString('hex');
}

function indexed({ keys }) {
  const index = new RequestIndex();
  let repeated = 0;
  for (const [seq, key] of keys.entries()) if (index.enter(key, seq) !== undefined) repeated++;
  return repeated;
}

function mapped({ keys }) {
  const index = new Map();
  let repeated = 0;
  for (const [seq, key] of keys.entries()) {
    const own = Buffer.from(key, 'utf8').toString('utf8');
    if (index.has(own)) repeated++;
    else index.set(own, seq);
  }
  return repeated;
}

const read = ({ leaves }, one) => leaves.reduce((sum, leaf, seq) => sum + one(leaf, seq).number, 0);

const PAIRS = {
  'leaf hashes and root: binary text (burin)': textRoot,
  'leaf hashes and root: buffers': bufferRoot,
  'events read: one expression (burin)': (made) => read(made, ({ body }) => parseEventFast(body)),
  'events read: JSON, canonical form, schema': (made) => read(made, (leaf, seq) => fromLeaf(seq, leaf)),
  'request keys: digests in typed arrays (burin)': indexed,
  'request keys: a Map of the keys': mapped,
};

export async function measure({ rounds }) {
  const made = { leaves: madeLeaves(), keys: Array.from({ length: EVENTS }, (_, seq) => keyOf(seq)) };
  const names = Object.keys(PAIRS);
  const times = Object.fromEntries(names.map((name) => [name, []]));
  const results = {};
  for (let round = -1; round < rounds; round++) {
    for (const name of round % 2 === 0 ? names : names.toReversed()) {
      const start = process.cpuUsage();
      results[name] = PAIRS[name](made);
      const { user, system } = process.cpuUsage(start);
      if (round >= 0) times[name].push((user + system) / 1000);
    }
  }
  for (let i = 0; i < names.length; i += 2)
    if (results[names[i]] !== results[names[i + 1]]) throw new Error(`${names[i]} gives another result`);
  return [names.map((part) => ({ part, ...spread(times[part]) }))];
}
