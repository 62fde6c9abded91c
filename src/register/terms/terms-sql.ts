import { rule, type SqlRule } from '../rule-sql.js';

/** How a store asks of the terms of editions when an event, called NEW, is entered. Each gives an SQL condition. */
export interface TermsFacts {
  readonly closed: string;
  /** Whether the edition has terms. */
  readonly opened: string;
  /** Whether another edition has or had this name, as far as the database knows names. */
  readonly nameElsewhere: string;
  /** Whether the terms of the edition have no such series, no such number in it, or write it in another way. */
  readonly outsideTerms: string;
}

const nameRule = ({ nameElsewhere }: TermsFacts): SqlRule =>
  rule(nameElsewhere, 'another edition has this name', 'terms.name-taken');

export const openedRules = (facts: TermsFacts): SqlRule[] => [
  rule(facts.opened, 'this edition has terms', 'terms.opened-before'),
  rule(facts.closed, 'this edition is closed', 'terms.closed'),
  nameRule(facts),
];

export const amendedRules = (facts: TermsFacts): SqlRule[] => [
  rule(`NOT ${facts.opened}`, 'this edition has no terms yet', 'terms.not-opened'),
  rule(facts.closed, 'this edition is closed', 'terms.closed'),
  nameRule(facts),
];

/** Of an issue. An edition begun before terms were entered has none to hold it against. */
export const onTermsRules = (facts: TermsFacts): SqlRule[] => [
  rule(
    facts.outsideTerms,
    'the terms of this edition have no such number, or write it in another way',
    'terms.not-on-terms',
    facts.opened,
  ),
];
