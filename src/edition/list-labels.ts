/** As many labels are listed. */
const MOST_LISTED = 8;

/** "1", "1, 2 and 3"; beyond eight the rest is counted: "... and 4 more". */
export function listLabels(labels: readonly string[]): string {
  if (labels.length === 1) return labels[0]!;
  const listed = labels.slice(0, MOST_LISTED);
  const more = labels.length - listed.length;
  if (more > 0) return `${listed.join(', ')} and ${more} more`;
  return `${listed.slice(0, -1).join(', ')} and ${listed.at(-1)}`;
}
