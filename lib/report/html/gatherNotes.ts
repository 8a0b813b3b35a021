/** From so many curves on, those that a note speaks of are counted instead of listed. */
const MOST_LISTED = 3;

/**
 * Say the same note of many curves once, with the curves that it speaks of.
 *
 * @param notes each beginning with the label of its curve and a colon where it speaks of one. @param labels of all curves. @param many what several of them are called.
 *
 * @example
 * gatherNotes(['a: Delimiter: tabs.', 'b: Delimiter: tabs.'], ['a', 'b']) // ['a, b: Delimiter: tabs.']
 */
export function gatherNotes(notes: string[], labels: string[], many = 'curves'): string[] {
  const gathered = new Map<string, Set<string>>();
  for (const note of notes) {
    const label = labels.find((one) => note.startsWith(`${one}: `));
    const text = label === undefined ? note : note.slice(label.length + 2);
    const of = gathered.get(text) ?? new Set();
    if (label !== undefined) of.add(label);
    gathered.set(text, of);
  }
  return [...gathered].map(([text, of]) => {
    const list = [...of];
    if (list.length === 0) return text;
    if (list.length <= MOST_LISTED) return `${list.join(', ')}: ${text}`;
    return `${list.length} ${many}, ${list[0]} to ${list[list.length - 1]}: ${text}`;
  });
}
