export const PER_EDITION: number;
export const IMPORTED: readonly ('issued' | 'engraved')[];
export function countOf(i: number): number;
export function editionOf(i: number): string;
export function ownEditionOf(name: string): string;
export function kindOf(i: number): 'issue' | 'import' | 'amend' | 'close';
export function importedBy(name: string): number[];
export function lifeOf(i: number): readonly string[];
