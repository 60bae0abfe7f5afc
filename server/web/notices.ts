/** Short words after something has been done, chosen by `?said=…` so that a page can be reloaded without doing it again. */
export const NOTICES: Readonly<Record<string, string>> = {
  'password-changed': 'Your password is changed. You are signed out everywhere else.',
  'signed-out': 'You are signed out.',
  'disagreement-kept': 'Your instructor sees what you wrote, and the answer will stand beside it.',
  'disagreement-answered': 'The answer is kept. The student sees it beside the remark.',
  'section-made': 'The section is made. Load its roster next.',
  'section-kept': 'The section is kept as you wrote it.',
  'section-archived': 'The section is archived. Its students no longer see its lab sheets; all records stay.',
  'section-opened': 'The section runs again.',
  'instructor-added': 'They teach this section with you from now on.',
  'instructor-removed': 'They no longer see this section.',
  'sheet-kept': 'The sheet is kept. This is how students see it. Assign it when it is ready.',
  'sheet-kept-aside':
    'The sheet is kept. An item that is being worked on was put aside with all its work, and the changed one stands in its place.',
  'sheet-copied': 'This copy is yours to change.',
  'sheet-assigned': 'The sheet is assigned. Your students see it now.',
  'sheet-withdrawn': 'The sheet is no longer assigned to this section.',
  'terms-kept': 'The dates and rules are kept.',
  'extra-time-given': 'The extra time is given. The student sees their own due date.',
  'engine-kept': 'The engine is kept.',
  'work-noted': 'The work is noted. Reference readings of this engine hold no longer.',
  'reference-kept': 'The reference is kept. Students never see it.',
  'gauge-kept': 'It is kept.',
  'check-noted': 'The check is noted.',
  'pin-set': 'Your PIN is set.',
  'sign-off-kept': 'All of it is kept.',
  signed: 'Signed.',
  countersigned: 'Countersigned.',
  'photo-kept': 'The photo is kept.',
  'reading-kept': 'Your readings are kept.',
  'readings-entered': 'The readings are entered.',
  called: 'Your instructor sees that you are waiting. Go on meanwhile if you can.',
  'plan-kept': 'The plan is kept. Your students see it from now on.',
  'lesson-kept': 'The lesson is kept. To show it to a section, add it to that section’s lessons.',
  'picture-kept': 'The picture is kept. Put its line into the text where it is to stand.',
  'comment-kept': 'The comment is kept. The student reads it with the result.',
  'try-given': 'One more try is given. The student sees it with what you wrote.',
  'try-given-closed':
    'One more try is given. The sheet is closed for this student, though: give extra time on the sheet’s page of the section, or it cannot be begun.',
  'paper-entered': 'The readings from paper are kept and graded.',
  'asking-open': 'Students may ask with this code. An older code is worth nothing now.',
  'asking-closed': 'Nobody can ask any more. Those who asked still wait below.',
  'asking-taken': 'They are on the roster. Give them a first password next, if they have none.',
  'asking-declined': 'They no longer wait.',
  'competency-kept': 'The competency is kept.',
  'word-kept': 'Your word is kept. It stands in the record with your reason.',
  'transcript-issued':
    'The transcript is kept as it stands here. Its code shows anybody who holds it that it is genuine.',
  'transcript-withdrawn':
    'The transcript is withdrawn. Whoever looks up its code reads so, with your reason.',
  'program-kept': 'It is kept.',
  'term-added': 'The term is added.',
  'key-rotated':
    'The key is retired. The next credential is signed with a new one; what the old one signed can still be checked.',
  'assessor-entered': 'The entry is kept.',
  'improvement-noted': 'The note is kept.',
  'queue-done': 'That was the last one that waited.',
  'points-changed': 'The points are changed. The student sees the new points and your reason.',
};

/** The sentence for a code, or undefined for anything unknown: nobody's words but ours reach the screen. */
export function noticeFor(said: unknown): string | undefined {
  return typeof said === 'string' && Object.hasOwn(NOTICES, said) ? NOTICES[said] : undefined;
}
