/**
 * Part text into numbers, for runtime and dialog alike (the build copies this function into the editor, so it asks for
 * nothing outside itself). Semicolons, blanks, and commas with blanks after them part numbers; beside semicolons a comma
 * between digits is decimal; three numbers or more may have bare commas between them.
 *
 * @returns 'unclear' where a comma may be either; what is no text as it is.
 */
export function splitNumbers(text: unknown): unknown {
  if (typeof text !== 'string') return text;
  const toNumbers = (parts: string[]) => parts.filter((part) => part !== '').map((part) => Number(part));
  const bare = (text.match(/\d,(?=\d)/g) ?? []).length;
  if (bare === 0) return toNumbers(text.split(/[\s;,]+/));
  if (text.includes(';') && !/,(\s|;|$)/.test(text)) {
    return toNumbers(text.split(/[\s;]+/).map((part) => part.replace(',', '.')));
  }
  return bare > 1 && !/[\s;]/.test(text.trim()) ? toNumbers(text.split(',')) : 'unclear';
}
