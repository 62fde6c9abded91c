export function countOf(i: number): number;
export function editionOf(i: number): string;
