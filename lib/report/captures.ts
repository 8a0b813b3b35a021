export {
  type BadRuns,
  badRuns,
  type CaptureView,
  captureViews,
  isBadCurve,
  isBadRung,
} from '../analysis/conclusions/captureViews';

/** Behind the name of what rests on a bad capture. */
export const BAD_MARK = '×';
