/** The column that is wrong. */
export interface Where {
  field?: string;
}

/** What is wrong with the columns of a curve. The catalogue's English, kept here because the model cannot ask words. */
export const curveRefusals = {
  'empty-curve': ({ label }: { label: string }) => `${label}: a curve needs at least one frequency and its level.`,
  'unequal-columns': ({ label, length, wanted }: { label: string; length: number; wanted: number }, { field }: Where) =>
    `${label}: ${field} has length ${length}, frequencyHz has length ${wanted}; all columns must be equally long.`,
  'not-a-number': ({ label, index }: { label: string | null; index: number }, { field }: Where) =>
    `${label === null ? '' : `${label}: `}${field}[${index}] is not a finite number.`,
  'frequency-not-rising': (
    { label, index, hz }: { label: string; index: number; hz: number },
    _where: Where,
    say: { exact(value: number): string },
  ) => `${label}: frequencyHz[${index}] is ${say.exact(hz)}; frequencies must be above 0 and strictly rising.`,
};
