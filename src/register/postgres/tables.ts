/** The tables and indexes as the steps of `migrations.ts` leave them, for comparison with what the server has. */

export interface SqlColumn {
  readonly column: string;
  /** As the server names it. */
  readonly type: string;
  readonly collation?: 'C';
  readonly required: boolean;
  /** Of a column computed from the text. */
  readonly expression?: string;
}

export interface SqlIndex {
  readonly name: string;
  readonly table: string;
  readonly unique: boolean;
  readonly columns: readonly string[];
  readonly where?: string;
}

const requiredColumn = (column: string, type: string): SqlColumn => ({ column, type, required: true });
const text = (column: string, member: string, required = false): SqlColumn => ({
  ...{ column, type: 'text', collation: 'C', required },
  expression: `body::json ->> '${member}'`,
});
const integerColumn = (column: string): SqlColumn => ({
  ...{ column, type: 'integer', required: false },
  expression: `(body::json ->> '${column}')::integer`,
});

/** The first column of each is its primary key. */
export const TABLES: readonly { readonly name: string; readonly columns: readonly SqlColumn[] }[] = [
  {
    name: 'event',
    columns: [
      requiredColumn('seq', 'integer'),
      { ...requiredColumn('body', 'text'), collation: 'C' },
      requiredColumn('leaf', 'bytea'),
      ...[text('type', 'type', true), text('edition', 'edition', true), text('series', 'series')],
      ...[integerColumn('number'), text('label', 'label'), text('at', 'at', true), text('key', 'key')],
      ...[integerColumn('nth'), text('name', 'name')],
      { column: 'terms', type: 'json', required: false, expression: `body::json -> 'terms'` },
      ...[integerColumn('corrects'), integerColumn('missing')],
    ],
  },
  {
    name: 'checkpoint',
    columns: [
      requiredColumn('size', 'integer'),
      { ...requiredColumn('note', 'text'), collation: 'C' },
      requiredColumn('frontier', 'bytea'),
    ],
  },
  { name: 'schema_version', columns: [requiredColumn('version', 'integer'), requiredColumn('at', 'text')] },
];

const ISSUED = `type = 'issued'`;

export const INDEXES: readonly SqlIndex[] = [
  { name: 'event_pkey', table: 'event', unique: true, columns: ['seq'] },
  { name: 'issued_label', table: 'event', unique: true, columns: ['edition', 'label'], where: ISSUED },
  {
    name: 'issued_number',
    table: 'event',
    unique: true,
    columns: ['edition', 'series', 'number'],
    where: ISSUED,
  },
  { name: 'request_nth', table: 'event', unique: true, columns: ['key', 'nth'], where: 'key IS NOT NULL' },
  { name: 'event_of_label', table: 'event', unique: false, columns: ['label', 'edition', 'seq'] },
  { name: 'event_of_number', table: 'event', unique: false, columns: ['number', 'series', 'edition', 'seq'] },
  { name: 'closing', table: 'event', unique: false, columns: ['edition'], where: `type = 'closed'` },
  { name: 'opened_once', table: 'event', unique: true, columns: ['edition'], where: `type = 'opened'` },
  {
    ...{ name: 'terms_of_edition', table: 'event', unique: false, columns: ['edition', 'seq'] },
    where: 'terms IS NOT NULL',
  },
  {
    ...{ name: 'correction', table: 'event', unique: false, columns: ['corrects'] },
    where: 'corrects IS NOT NULL',
  },
  {
    ...{ name: 'loss', table: 'event', unique: false, columns: ['seq'] },
    where: 'missing IS NOT NULL',
  },
  {
    ...{ name: 'resumption', table: 'event', unique: false, columns: ['seq'] },
    where: `type = 'resumed'`,
  },
  { name: 'checkpoint_pkey', table: 'checkpoint', unique: true, columns: ['size'] },
  { name: 'schema_version_pkey', table: 'schema_version', unique: true, columns: ['version'] },
];
