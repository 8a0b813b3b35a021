import { makeRefusal } from '../words/makeRefusal';
import { asNumbered } from '../words/numbered';
import { type Heading, isCalled } from './findHeading';
import type { ColumnKind } from './headingUnits';

/**
 * Find a column that was asked for by heading or by number from 1; a heading that is a number goes before the number.
 *
 * @param width how many columns there are.
 * @throws BassloomError `column-not-found`, saying which there are.
 */
export function askedColumn(
  asked: string | number,
  kind: ColumnKind,
  heading: Heading | undefined,
  width: number,
  called: string,
): number {
  const byName = heading?.cells.findIndex((cell) => isCalled(cell, String(asked))) ?? -1;
  if (byName >= 0 && typeof asked === 'string') return byName;
  const isNumber = typeof asked === 'number' || /^\s*\d{1,6}\s*$/.test(asked);
  if (isNumber && Number(asked) >= 1 && Number(asked) <= width) return Number(asked) - 1;
  const headings = heading?.cells.slice(0, 20).map((cell) => cell.text.slice(0, 60)) ?? [];
  throw makeRefusal(
    'column-not-found',
    {
      label: called,
      asked,
      kind,
      columns: width,
      headingLine: heading?.line ?? null,
      ...asNumbered({ heading: headings }),
    },
    { field: `columns.${kind}` },
  );
}
