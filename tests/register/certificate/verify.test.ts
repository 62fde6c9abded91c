import { describe, expect, test } from 'vitest';
import type { Certificate } from '../../../src/register/certificate/certificate-form.js';
import { makeCertificate } from '../../../src/register/certificate/make.js';
import { verifyCertificate } from '../../../src/register/certificate/verify.js';
import type { RegisterEvent } from '../../../src/register/event.js';
import { alteredFacts } from './altered-facts.js';
import { alteredForm } from './altered-form.js';
import { alteredProofs } from './altered-proofs.js';
import {
  described,
  events,
  genuine,
  log,
  logOf,
  type Maker,
  maker,
  makerOf,
  ORIGIN,
  OWNER,
  provedAt,
  provedIn,
  stranger,
} from './maker.js';

const codesOf = (bytes: Uint8Array, key = maker.publicKey): string[] => {
  const verdict = verifyCertificate(bytes, key);
  return verdict.ok ? [] : verdict.problems.map(({ code }) => code.replace(/^certificate\./, ''));
};

describe('a genuine certificate', () => {
  test('is told by the public key alone, and what it says is given', () => {
    const verdict = verifyCertificate(genuine().file, maker.publicKey);
    expect(verdict).toMatchObject({ ok: true, verified: { state: 'inspected' } });
    if (!verdict.ok) return;
    expect(verdict.verified.certificate).toMatchObject({
      label: '12/90',
      dates: { issued: '2021-03-01', engraved: '2021-03-01', inspected: '2021-03-01' },
    });
    expect(verdict.verified.checkpoint).toMatchObject({ origin: ORIGIN, size: events.length });
  });

  test('names its owner only when asked to', () => {
    const verdict = verifyCertificate(genuine(true).file, maker.publicKey);
    expect(verdict).toMatchObject({
      ok: true,
      verified: { state: 'delivered', certificate: { owner: OWNER, dates: { delivered: '2021-03-09' } } },
    });
    expect(genuine().certificate.owner).toBeUndefined();
  });

  test('may have line ends after it, none, or those of another system', () => {
    const text = Buffer.from(genuine().file).toString().trimEnd();
    for (const end of ['', '\n', '\r\n', '\n\n']) expect(codesOf(Buffer.from(text + end))).toEqual([]);
  });

  test('is the same bytes each time', () => {
    expect(genuine().file).toEqual(genuine().file);
  });

  test('may carry the signature of a witness beside the maker', () => {
    const draft = JSON.parse(JSON.stringify(genuine().certificate)) as Certificate;
    const witness = makerOf('witness.example', 9);
    const [text] = draft.checkpoint.split('\n\n');
    const line = witness.note(`${text}\n`).split('\n\n')[1]!;
    const both = makeCertificate(described, provedIn(log), [], `${draft.checkpoint}${line}`, maker.sign);
    expect(codesOf(both.file)).toEqual([]);
  });
});

describe('an altered certificate', () => {
  const alterations = [...alteredFacts, ...alteredProofs, ...alteredForm];

  test('is tried in more than forty ways', () => {
    expect(alterations.length).toBeGreaterThan(40);
    expect(new Set(alterations.map(([what]) => what)).size).toBe(alterations.length);
  });

  test.each(alterations)('with %s gives %j', (_what, codes, make) => {
    expect([...new Set(codesOf(make()))].sort()).toEqual([...codes].sort());
  });
});

describe('by a history of keys', () => {
  /** The maker's key was stolen at 100 events; another one signs since. */
  const history = (end: number) =>
    `keys of ${ORIGIN}\n${maker.publicKey} 0 ${end} stolen\n${stranger.publicKey} ${end} open\n`;
  const certificateOf = (noted: Maker, signed: Maker) =>
    makeCertificate(described, provedIn(log), [], logOf(events, noted).checkpoint, signed.sign).file;

  test.each<[string, Maker, Maker, number, string[]]>([
    ['the key in use', stranger, stranger, 100, []],
    ['the key that was stolen later', maker, maker, events.length, []],
    ['the stolen key after its end', maker, maker, events.length - 1, ['key-retired']],
    ['the key in use before its beginning', stranger, stranger, events.length + 1, ['key-retired']],
    ['a stolen key, with a checkpoint of the key in use', stranger, maker, 100, ['signature-wrong']],
    ['the key in use, with a checkpoint of the other', maker, stranger, events.length, ['signature-wrong']],
  ])('signed with %s', (_, noted, signed, end, codes) => {
    expect(codesOf(certificateOf(noted, signed), history(end))).toEqual(codes);
  });

  test('a history that is altered is no key', () => {
    expect(codesOf(genuine().file, history(100).replace('stolen', 'planned'))).toEqual(['key-unreadable']);
  });
});

describe('of an edition whose terms were amended', () => {
  const WHERE_AMENDED = 5;
  const terms = {
    series: [{ id: 'main', title: 'M', from: 1, to: 90, figures: 'arabic', pad: 1, exclude: [] }],
    ...{ parts: [], approvers: [] },
  };
  const amended = (name: string, seq: number, members: object = {}) => {
    const { at } = events[seq]!;
    const event = {
      type: 'amended',
      edition: 'nine-lights',
      name,
      terms,
      by: 'E. Marrow',
      at,
      why: 'new name',
    };
    return { ...event, ...members } as unknown as RegisterEvent;
  };
  /** A genuine certificate of a log with these events put between the others, which are shown in an order. */
  function certificateOf(entries: readonly RegisterEvent[], shown = (all: number[]) => all) {
    const told = [...events.slice(0, WHERE_AMENDED), ...entries, ...events.slice(WHERE_AMENDED)];
    const of = logOf(told);
    const places = shown(entries.map((_, i) => WHERE_AMENDED + i));
    const amendments = places.map((seq) => provedAt(of, seq));
    return makeCertificate(described, provedIn(of), amendments, of.checkpoint, maker.sign).file;
  }

  test('shows each amendment with its proof, and is named as the last one names it', () => {
    const file = certificateOf([amended('Ten Lights', 5), amended('Nine Lights', 6)]);
    const verdict = verifyCertificate(file, maker.publicKey);
    expect(verdict).toMatchObject({
      ok: true,
      verified: { amendments: [{ name: 'Ten Lights' }, { name: 'Nine Lights' }] },
    });
  });

  test.each<[string, string[], () => Uint8Array]>([
    ['a name that it has no more', ['edition-differs'], () => certificateOf([amended('Ten Lights', 5)])],
    [
      'amendments in another order',
      ['amendment-wrong'],
      () => certificateOf([amended('Ten Lights', 5), amended('Nine Lights', 6)], (all) => all.reverse()),
    ],
    [
      'the amendment of another edition',
      ['amendment-wrong'],
      () => certificateOf([amended('Nine Lights', 5, { edition: 'ten-lights' })]),
    ],
    [
      'an opening in its place',
      ['amendment-wrong'],
      () => certificateOf([amended('Nine Lights', 5, { type: 'opened' })]),
    ],
  ])('with %s gives %j', (_, codes, make) => {
    expect(codesOf(make())).toEqual(codes);
  });
});
