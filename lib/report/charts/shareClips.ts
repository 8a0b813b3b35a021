const CLIP = /<clipPath id="([^"]+)">\s*([\s\S]*?)<\/clipPath>\s*/g;
/** Drawings with a clip of their own, and no group within. */
const CLIPPED = /<g clip-path="url\(#([^")]+)\)">\s*((?:(?!<\/?g\b)[\s\S])*)<\/g>\s*/g;

/**
 * Have neighbours in an SVG that are clipped alike share one clip and one group.
 *
 * ECharts gives every line a clip of its own: the file is larger by them, and a renderer that paints each clip as a layer takes five
 * times as long.
 */
export function shareClips(svg: string): string {
  const firstOf = new Map<string, string>();
  const shared = new Map<string, string>();
  const single = svg.replace(CLIP, (whole, id: string, shape: string) => {
    const first = firstOf.get(shape);
    shared.set(id, first ?? id);
    if (first === undefined) firstOf.set(shape, id);
    return first === undefined ? whole : '';
  });
  let open: { clip: string; end: number } | undefined;
  const parts: string[] = [];
  let from = 0;
  for (const { 0: whole, 1: id, 2: inner, index } of single.matchAll(CLIPPED)) {
    const clip = shared.get(id) ?? id;
    const isNext = open?.clip === clip && open.end === index;
    if (open && !isNext) parts.push('</g>\n');
    parts.push(single.slice(from, index), isNext ? '' : `<g clip-path="url(#${clip})">\n`, inner);
    from = index + whole.length;
    open = { clip, end: from };
  }
  if (open) parts.push('</g>\n');
  return parts.join('') + single.slice(from);
}
