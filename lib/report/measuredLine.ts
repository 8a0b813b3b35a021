import { type MethodNotes, procedureWords } from './html/factTable';
import type { Session } from './session';

/** What was measured, in one line. */
export function measuredLine(session: Session, notes: MethodNotes): string {
  const { responses, recordings, settings, procedures, words } = session;
  const drives = responses.flatMap(({ about }) => about.driveDb ?? []);
  const procedure = procedures.length <= 1 ? procedureWords(session, notes) : '';
  return words.page.measured({
    runs: responses.length,
    settings: settings.length,
    drivesDb: drives.length > 0 ? [Math.min(...drives), Math.max(...drives)] : null,
    recordings: recordings.length,
    procedure: procedure === words.page.notNamed ? '' : procedure,
  });
}
