import { endLabelMargin, type LineStyle, lineKey } from './drawnLine';
import { fitText, type Layout } from './layout';
import { KEY_SWATCH, type KeyItem } from './marks';

export interface PlacedNames {
  isBeside: boolean;
  /** Room to the right of the plot, px; undefined where none is needed. */
  margin: number | undefined;
  /** Key entries of the names; empty where they stand beside their lines. */
  key: KeyItem[];
}

/** Put names of lines beside their right ends where a quarter of the drawing has room for them uncut, else into the key. */
export function placeNames(layout: Layout, names: string[], styleOf: (k: number) => LineStyle): PlacedNames {
  if (!names.some(Boolean)) return { isBeside: false, margin: undefined, key: [] };
  const margin = endLabelMargin(names, layout.fontSize, layout.width);
  if (margin <= layout.width / 4) return { isBeside: true, margin, key: [] };
  const fitted = (name: string): string => fitText(name, layout.fontSize, layout.width - KEY_SWATCH - 12);
  return { isBeside: false, margin: undefined, key: names.map((name, k) => lineKey(fitted(name), styleOf(k))) };
}
