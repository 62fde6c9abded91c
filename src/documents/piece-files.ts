/**
 * The names of the files of a piece. They are made of ids alone: no text from people ever names a file. As ids may hold
 * hyphens, two surfaces can come to one name; `crosscheck` refuses such an edition.
 */
export const sheetFile = (part: string, surface: string): string => `${part}-${surface}.svg`;

export const programFile = (part: string, surface: string, cutter: string): string =>
  `${part}-${surface}-${cutter}.nc`;
