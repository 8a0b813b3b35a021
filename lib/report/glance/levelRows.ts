import { nominalHz } from '../../model/octaves';
import type { ReportWords } from '../../words/reportWords';
import { drivenRegions } from '../figures/drawnSession';
import { onsetsOf } from '../onsetsOf';
import type { SettingView } from '../session';
import { distinct, flagged, type GlanceRow, QUOTED_HZ } from './glanceRow';

/** How loud sweeps went. */
export function loudestRows({ page }: ReportWords): GlanceRow[] {
  const { glanceTable: told } = page;
  return QUOTED_HZ.map(
    (hz): GlanceRow => [
      told.band(hz),
      ({ ladder }) => {
        const band = ladder?.bandsHz.findIndex((centre) => nominalHz(centre) === hz) ?? -1;
        const level = ladder?.ceiling.levelDb[band] ?? null;
        return level === null ? null : told.level(level, !ladder?.ceiling.reached[band]);
      },
    ],
  );
}

/** Where drive is lost. */
export function limitRows(views: SettingView[], words: ReportWords): GlanceRow[] {
  const { glanceTable: told } = words.page;
  const amounts = distinct(
    views.flatMap(({ ladder }) => ladder?.onset.map(({ compressionDb }) => compressionDb) ?? []),
  );
  return [
    ...amounts
      .sort((a, b) => a - b)
      .map(
        (amount): GlanceRow => [
          told.lost(amount),
          (view) => {
            if (!view.conclusion || !view.ladder) return null;
            const first = onsetsOf(view).find(({ compressionDb }) => compressionDb === amount);
            if (first) return told.onset(words.figure.run(first.driveDb), first.hz);
            const { extent, freeFromHz } = view.conclusion;
            return extent === 'unknown' ? told.unknown : told.notReached(freeFromHz);
          },
        ],
      ),
    [
      told.limited,
      (view) => {
        const extent = view.conclusion?.extent ?? view.ladder?.extent;
        if (!view.ladder || !extent) return null;
        const regions = drivenRegions(view);
        if (regions.length > 0) return told.limits(regions);
        return extent === 'none' ? told.free(view.conclusion?.freeFromHz ?? null) : told.extents[extent];
      },
    ],
  ];
}

/** How clean it stays. */
export function cleanRows(views: SettingView[], words: ReportWords): GlanceRow[] {
  const { glanceTable: told } = words.page;
  const percents = distinct(views.flatMap(({ conclusion }) => conclusion?.clean.map(({ percent }) => percent) ?? []));
  return percents
    .sort((a, b) => a - b)
    .map(
      (percent): GlanceRow => [
        told.thd(percent),
        ({ conclusion, distortion }) => {
          const clean = conclusion?.clean.find((one) => one.percent === percent);
          if (!clean) return distortion ? told.unknown : null;
          const text = told.clean(nominalHz(clean.lowHz), nominalHz(clean.highHz), clean.levelDb, clean.atLeast);
          return distortion ? flagged(text, distortion, words) : text;
        },
      ],
    );
}
