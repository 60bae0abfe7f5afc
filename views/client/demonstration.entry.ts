import { defineDialFace } from './elements/dial-element.ts';
import { need } from './elements/need.ts';
import { defineAttemptReplay, type ReplayMoment } from './elements/replay-element.ts';
import { followReplay } from './elements/replay-work.ts';
import type { ReplayWorkData } from './models/replay-work.ts';

const place = document.querySelector<HTMLElement>('#replay-work');
if (place !== null) {
  const data = JSON.parse(need(document, '#replay-work-data').textContent ?? '{}') as ReplayWorkData;
  const follow = followReplay(place, data);
  // Before the replay is there: it tells its first moment at once.
  need(document, '#replay').addEventListener('replay-moment', (event) =>
    follow((event as CustomEvent<ReplayMoment>).detail),
  );
}
defineDialFace();
defineAttemptReplay();
