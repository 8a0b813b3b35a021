import { expect, test } from 'vitest';
import { shareClips } from '../../lib/report/charts/shareClips';

const clip = (id: string, shape: string) => `<clipPath id="${id}">\n<path d="${shape}"></path>\n</clipPath>\n`;
const group = (id: string, inner: string) => `<g clip-path="url(#${id})">\n<path d="${inner}"></path>\n</g>\n`;

test('neighbours that are clipped alike share clip and group, what lies between or is clipped otherwise parts them', () => {
  const svg = shareClips(
    [
      group('a', 'M1'),
      group('b', 'M2'),
      '<text>between</text>\n',
      group('c', 'M3'),
      group('d', 'M4'),
      group('e', 'M5'),
      clip('a', 'box'),
      clip('b', 'box'),
      clip('c', 'box'),
      clip('d', 'other'),
      clip('e', 'box'),
    ].join(''),
  );
  const inner = (path: string) => `<path d="${path}"></path>\n`;
  const shared = (id: string, ...paths: string[]) => `<g clip-path="url(#${id})">\n${paths.map(inner).join('')}</g>\n`;
  expect(svg).toBe(
    [
      shared('a', 'M1', 'M2'),
      '<text>between</text>\n',
      shared('a', 'M3'),
      shared('d', 'M4'),
      shared('a', 'M5'),
      clip('a', 'box'),
      clip('d', 'other'),
    ].join(''),
  );
});

test('a drawing without clips stays as it is', () => {
  const plain = '<g transform="translate(1 2)">\n<path d="M0"></path>\n</g>\n';
  expect(shareClips(plain)).toBe(plain);
});
