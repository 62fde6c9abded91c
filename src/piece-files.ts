/**
 * The names of the files of a piece: ids alone, joined by hyphens, which an id may hold too. The reader of documents
 * refuses designs that would give two files one name.
 */
export const sheetFile = (part: string, surface: string): string => `${part}-${surface}.svg`;
export const programFile = (part: string, surface: string, cutter: string): string =>
  `${part}-${surface}-${cutter}.nc`;
/** The folder of a piece: made of ids and numbers alone, so that no text from people ever names a file. */
export const pieceFolder = ({
  series,
  number,
}: {
  readonly series: string;
  readonly number: number;
}): string => `${series}-${String(number).padStart(4, '0')}`;
