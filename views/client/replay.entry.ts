import { defineDialFace } from './elements/dial-element.ts';
import { defineAttemptReplay } from './elements/replay-element.ts';

// The dial first: the replay moves it as soon as it is there.
defineDialFace();
defineAttemptReplay();
