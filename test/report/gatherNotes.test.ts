import { expect, it } from 'vitest';
import { gatherNotes } from '../../lib/report/html/gatherNotes';

it('says the same note of many curves once, and names or counts them', () => {
  const labels = ['a', 'b', 'c', 'd'];
  const notes = [
    ...labels.map((label) => `${label}: Tabs.`),
    'a: One line dropped.',
    'b: Odd.',
    'd: Odd.',
    'Of all.',
    'x: y',
  ];
  expect(gatherNotes(notes, labels)).toEqual([
    '4 curves, a to d: Tabs.',
    'a: One line dropped.',
    'b, d: Odd.',
    'Of all.',
    'x: y',
  ]);
});
