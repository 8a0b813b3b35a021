import type { Curve } from '../../model/curve';
import type { Step } from '../../model/step';
import { NO_BREAK, RANGE } from '../../words/format';
import type { ReportWords } from '../../words/reportWords';
import { plainName } from '../text';
import { dataTable } from './dataTable';
import { fieldName } from './describeFields';

/** What was done to the curves, each kind of step once, with the settings that were the same for all. */
export function stepTable(curves: Curve[], words: ReportWords): string {
  const { methodTable } = words.page;
  const kinds = new Map<string, { steps: Step[]; curves: Set<string> }>();
  for (const curve of curves) {
    for (const step of curve.steps) {
      // a Function node may have written anything
      if (typeof step?.did !== 'string') continue;
      const kind = kinds.get(step.did) ?? { steps: [], curves: new Set() };
      kind.steps.push(step);
      kind.curves.add(curve.id);
      kinds.set(step.did, kind);
    }
  }
  if (kinds.size === 0) return '';
  const rows = [...kinds].map(([did, kind]) => [
    plainName(did),
    settingsText(kind.steps, words),
    methodTable.countOf(kind.curves.size, curves.length),
  ]);
  return `<h3>${methodTable.processing}</h3>\n${dataTable({ caption: methodTable.steps, head: methodTable.stepHead, rows }, words)}`;
}

/** What was judged of the captures that curves come from: told in a section of its own. */
const JUDGEMENTS = ['warnings', 'verdict', 'captures'];

function settingsText(steps: Step[], words: ReportWords): string {
  const { methodTable } = words.page;
  // a step that a flow of one's own has written may come without settings
  const settings = steps.map((step): Record<string, unknown> => ({ ...step.with }));
  const keys = [...new Set(settings.flatMap(Object.keys))].filter((key) => !JUDGEMENTS.includes(key));
  const parts = keys.map((key) => {
    const { name, unit } = fieldName(key);
    const isMeasured = unit !== '' && settings.every((one) => isNumbers(one[key]));
    const values = [...new Set(settings.map((one) => valueText(one[key], isMeasured ? unit : '', words)))];
    return `${isMeasured || unit === '' ? plainName(key.charAt(0)) + name.slice(1) : plainName(key)}: ${values.length > 3 ? methodTable.differentValues(values.length) : values.join(methodTable.or)}`;
  });
  return parts.join('; ') || '–';
}

/** A number, two for a range, or not set. */
function isNumbers(value: unknown): boolean {
  if (value === undefined || typeof value === 'number') return true;
  return Array.isArray(value) && value.length === 2 && value.every((one) => typeof one === 'number');
}

function valueText(value: unknown, unit: string, { page, say }: ReportWords): string {
  if (value === undefined) return page.methodTable.notSet;
  if (typeof value === 'number' || (unit !== '' && isNumbers(value))) {
    const numbers = [value as number | number[]].flat().map((one) => say.short(one, 4));
    return `${numbers.join(RANGE)}${unit && NO_BREAK}${unit}`;
  }
  const text = plainName(typeof value === 'string' ? value : (JSON.stringify(value) ?? String(value)));
  return text.length > 120 ? `${text.slice(0, 120)}…` : text;
}
