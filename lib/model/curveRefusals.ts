/** The column that is wrong. */
export interface Where {
  field?: string;
}

/** What is wrong with the columns of a curve. The catalogue's English, kept here because the model cannot ask words. */
export const curveRefusals = {
  'not-an-array': ({ label, found, typed }: { label: string; found: string; typed: boolean }, { field }: Where) =>
    `${label}: ${field} is ${found}; ${typed ? `use Array.from(${field})` : 'a plain array of numbers is needed'}.`,
  'empty-curve': ({ label }: { label: string }, { field }: Where) =>
    `${label}: ${field ?? 'frequencyHz'} is empty; a curve needs at least one point.`,
  'unequal-columns': ({ label, length, wanted }: { label: string; length: number; wanted: number }, { field }: Where) =>
    `${label}: ${field} has ${length} ${length === 1 ? 'value' : 'values'}, frequencyHz has ${wanted}; they must be equal.`,
  'not-a-number': (
    { label, index, found }: { label: string | null; index: number; found?: string },
    { field }: Where,
  ) =>
    `${label === null ? '' : `${label}: `}${field}[${index}] is ${found === undefined ? 'not a finite number' : `${found}; a number is needed`}.`,
  'frequency-not-rising': (
    { label, index, hz }: { label: string; index: number; hz: number },
    _where: Where,
    say: { exact(value: number): string },
  ) => `${label}: frequencyHz[${index}] is ${say.exact(hz)}; frequencies must be above 0 and strictly rising.`,
};
