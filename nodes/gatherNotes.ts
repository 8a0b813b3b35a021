/** What was noted of several files: the same note of many said once, each with the files that it speaks of. */
export function gatherNotes(noted: { label: string; note: string }[]): string[] {
  const labels = new Map<string, string[]>();
  for (const { label, note } of noted) labels.set(note, [...(labels.get(note) ?? []), label]);
  return [...labels].map(([note, of]) =>
    of.length > 3 ? `${of.length} files, ${of[0]} to ${of[of.length - 1]}: ${note}` : `${of.join(', ')}: ${note}`,
  );
}
