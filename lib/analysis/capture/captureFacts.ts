import type { CaptureQuality } from '../../model/findings';

/** What is known of a capture before it is judged. */
export type CaptureFacts = Omit<CaptureQuality, 'verdict' | 'warnings'>;
