import { defineDialFace } from './elements/dial-element.ts';
import { keysOfBar } from './elements/key-bar.ts';
import { defineAttemptReplay } from './elements/replay-element.ts';

defineDialFace();
defineAttemptReplay();
for (const bar of document.querySelectorAll<HTMLElement>('[data-keys]')) keysOfBar(bar);
