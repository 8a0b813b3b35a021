const RIGHT_TO_LEFT = /[\u0590-\u08ff\u200f\u202a-\u202e\u2066-\u2069\ufb1d-\ufdff\ufe70-\ufeff]/;
// biome-ignore lint/suspicious/noControlCharactersInRegex: control characters are what is looked for
const CONTROL = /[\u0000-\u001f\u007f-\u009f\u2028\u2029]+/g;
const LONE_SURROGATE = /\p{Surrogate}/gu;

/**
 * Make a name that came from outside fit to stand in a sentence: no control characters, no broken halves of characters,
 * and shut off from the writing direction around it where it could turn that round (U+2068 ... U+2069).
 */
export function plainName(name: string): string {
  const clean = name.replace(CONTROL, ' ').replace(LONE_SURROGATE, '\ufffd').replace(/ {2,}/g, ' ').trim();
  return RIGHT_TO_LEFT.test(clean) ? `\u2068${clean.replace(/[\u2066-\u2069]/g, '')}\u2069` : clean;
}
