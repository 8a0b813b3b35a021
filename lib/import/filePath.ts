/** The parts of a path, whichever slash it is written with; empty ones and '.' left out. */
export function pathParts(path: string): string[] {
  return path.split(/[/\\]/).filter((part) => part !== '' && part !== '.');
}

/** A file name without its extension: a dot and up to eight letters or digits, a letter first ('4.5' has none). */
export function withoutExtension(name: string): string {
  return name.replace(/(.)\.[A-Za-z][A-Za-z0-9]{0,7}$/, '$1');
}

/** What a file is called: its name without path, extension and blanks around; empty where a path names none. */
export function bareName(path: string): string {
  return withoutExtension((pathParts(path).at(-1) ?? '').trim());
}

/** Label of a measurement read from a file: its name without path and extension. */
export function labelOf(path: string): string {
  const name = pathParts(path).at(-1) ?? path;
  return withoutExtension(name).trim() || name;
}
