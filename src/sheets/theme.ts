/** Black, one second colour as printers have always had, and one grey. All text is at least 4.5 : 1 on white. */
export const INK = '#1a1a1a';
export const QUIET = '#555555';
export const SECOND = '#8a3324';
export const SECOND_TINT = '#f8ece8';
export const PAPER = '#ffffff';

export const SERIF = "Georgia, 'Times New Roman', Times, serif";
export const SANS = "Helvetica, Arial, 'Liberation Sans', 'DejaVu Sans', sans-serif";

/** Smallest text on any sheet, mm: its capitals and digits are 1.8 mm high. */
export const SMALL_MM = 2.6;
