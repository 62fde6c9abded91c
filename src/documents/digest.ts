import { hash } from 'node:crypto';
import canonicalizeModule from 'canonicalize';

// the package is CommonJS but its types describe a default export
const canonicalize = canonicalizeModule as unknown as (value: unknown) => string | undefined;

/**
 * SHA-256 of a document's canonical JSON (RFC 8785): the same however its YAML is laid out, commented or ordered.
 * It is taken of what is written, before defaults are filled in, so that a later burin which knows one more key
 * still finds an old document unchanged.
 */
export function digestOf(value: unknown): string {
  return hash('sha256', canonicalize(value) ?? 'null');
}
