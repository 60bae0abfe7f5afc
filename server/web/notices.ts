/** Short words after something has been done, chosen by `?said=…` so that a page can be reloaded without doing it again. */
export const NOTICES: Readonly<Record<string, string>> = {
  'password-changed': 'Your password is changed. You are signed out everywhere else.',
  'signed-out': 'You are signed out.',
  'disagreement-kept': 'Your instructor sees what you wrote, and the answer will stand beside it.',
  'disagreement-answered': 'The answer is kept. The student sees it beside the remark.',
  'plan-kept': 'The plan is kept. Your students see it from now on.',
  'lesson-kept': 'The lesson is kept. To show it to a section, add it to that section’s lessons.',
  'picture-kept': 'The picture is kept. Put its line into the text where it is to stand.',
  'points-changed': 'The points are changed. The student sees the new points and your reason.',
};

/** The sentence for a code, or undefined for anything unknown: nobody's words but ours reach the screen. */
export function noticeFor(said: unknown): string | undefined {
  return typeof said === 'string' && Object.hasOwn(NOTICES, said) ? NOTICES[said] : undefined;
}
