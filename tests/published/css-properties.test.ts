import type { Page } from 'playwright-core';
import { afterAll, beforeAll, describe, expect, it } from 'vitest';
import { inlineStyle, styleSheet } from '../../src/artwork/svg/css.js';
import {
  PROPERTIES,
  UNREAD_ATTRIBUTES,
  UNREAD_OUTERMOST,
  UNREAD_PROPERTIES,
} from '../../src/artwork/svg/properties.js';
import { sharedChromium } from '../browser/chromium.js';
import { attributesInPage, HARMLESS, LONGHANDS_IN_PAGE, movedInPage } from './css-properties.js';

/*
 * Every CSS property that Chromium knows, by any of its names, is read, remarked on or moves no ink. A new Chromium
 * that knows a new one fails here until it is in one of these lists.
 */
const isRead = (name: string): boolean => name in PROPERTIES;
const isRemarked = (name: string): boolean => UNREAD_PROPERTIES.has(name) || UNREAD_OUTERMOST.has(name);

/** What burin makes of a declaration, as text. */
const readingOf = (name: string, value: string): string => {
  const { declarations, unread, unreadOutermost, rejected } = inlineStyle(
    styleSheet([], false),
    `${name}:${value}`,
  );
  return [[...declarations], unread, unreadOutermost, rejected.map(([, text]) => text)].flat(2).join(' ');
};
const VALUES = [
  'inherit',
  'none',
  '5px solid',
  'monospace',
  '50%',
  '20px',
  'rotate(9deg)',
  'url(#a)',
  'hidden',
];

describe('every CSS property of Chromium', () => {
  let page: Page;
  let longhandsOf: Readonly<Record<string, readonly string[]>>;
  let longhands: readonly string[];
  beforeAll(async () => {
    page = await (await sharedChromium()).newPage();
    longhandsOf = await page.evaluate(LONGHANDS_IN_PAGE);
    longhands = [...new Set(Object.values(longhandsOf).flat())];
  });
  afterAll(async () => {
    await page?.close();
  });

  it('is read, remarked on or in the list of those that move no ink', () => {
    expect(longhands.length).toBeGreaterThan(400);
    expect(longhands.filter((n) => !isRead(n) && !isRemarked(n) && !HARMLESS.has(n))).toEqual([]);
    expect([...HARMLESS].filter((n) => isRead(n) || isRemarked(n))).toEqual([]);
  });

  it('is known by each of its names: prefixed ones, those of before, and shorthands', () => {
    const names = Object.entries(longhandsOf).filter(([, of]) => of.some((n) => !HARMLESS.has(n)));
    expect(names.length).toBeGreaterThan(150);
    expect(names.map(([n]) => n).filter((n) => VALUES.every((value) => readingOf(n, value) === ''))).toEqual(
      [],
    );
  });

  it('is read alike by another name', () => {
    const others = Object.entries(longhandsOf).filter(
      ([n, [one, more]]) => n !== one && !more && isRead(one!),
    );
    expect(others.length).toBeGreaterThan(4);
    for (const [name, [one]] of others)
      for (const value of VALUES)
        expect(readingOf(name, value).replaceAll(name, one!)).toBe(readingOf(one!, value));
  });

  it('is seen as an attribute too where it is one', async () => {
    const names = [...UNREAD_PROPERTIES.keys(), ...UNREAD_OUTERMOST.keys()];
    const attributes: string[] = await page.evaluate(attributesInPage(names));
    expect(attributes.sort()).toEqual([...UNREAD_ATTRIBUTES].sort());
    // Sizes and places are attributes of some elements, and are read with them.
    const read: string[] = await page.evaluate(attributesInPage(Object.keys(PROPERTIES)));
    const asAttributes = read.filter((name) => !['x', 'y', 'width', 'height'].includes(name));
    expect(asAttributes.length).toBeGreaterThan(20);
    expect(asAttributes.filter((name) => !PROPERTIES[name]!.attribute)).toEqual([]);
  });

  it('moves no ink where it is in the list of those that do not: all of them at once, with each kind of value', async () => {
    const { moved, tried } = (await page.evaluate(movedInPage(HARMLESS))) as Record<
      'moved' | 'tried',
      string[]
    >;
    expect(moved).toEqual([]);
    expect(tried!.length).toBeGreaterThan(0.95 * HARMLESS.size);
  });

  it('is found by those pictures where it moves ink', async () => {
    const moving = ['transform', '-webkit-transform-origin-x', 'outline', 'direction', 'border-image', 'd'];
    const { moved } = (await page.evaluate(movedInPage(moving))) as Record<'moved', string[]>;
    const found = new Set(moved.map((line) => /([a-z-]+):/.exec(line)?.[1]));
    expect(moving.filter((name) => !found.has(name))).toEqual([]);
  });
});
