/** What a run sheet says of the pieces that were to be cut. */
export interface ReadRunSheet {
  /** The name of the edition. */
  readonly edition: string;
  readonly labels: readonly string[];
  /** Rows of its tables, and how many the heads of these tables say there are. */
  readonly rows: number;
  readonly listed: number;
}

const NAMED: Readonly<Record<string, string>> = { amp: '&', lt: '<', gt: '>', quot: '"' };

const unescapeMarkup = (text: string): string =>
  text.replace(/&(?:#x([0-9A-Fa-f]{1,6})|#([0-9]{1,7})|(amp|lt|gt|quot));/g, (whole, hex, decimal, name) => {
    if (name) return NAMED[name as string]!;
    const code = Number.parseInt(hex ?? decimal, hex ? 16 : 10);
    return code <= 0x10ffff ? String.fromCodePoint(code) : whole;
  });

/** Reads a file of `writeRunSheet` back; undefined for any other. */
export function readRunSheet(text: string): ReadRunSheet | undefined {
  const edition = /^<!DOCTYPE html>\n[\s\S]{0,2000}?<title>Run sheet: [\s\S]*?<h1>([^<]*)<\/h1>/.exec(
    text,
  )?.[1];
  if (edition === undefined || !text.trimEnd().endsWith('</html>')) return undefined;
  const labels = [...text.matchAll(/<tr data-label="([^"]*)"><td class="done">/g)].map((row) =>
    unescapeMarkup(row[1]!),
  );
  const heads = text.matchAll(/<tr class="again"><th [^>]*>[^<]*, (\d+) pieces? in this order<\/th><\/tr>/g);
  const listed = [...heads].reduce((sum, [, count]) => sum + Number(count), 0);
  return { edition: unescapeMarkup(edition), labels: [...new Set(labels)], rows: labels.length, listed };
}
