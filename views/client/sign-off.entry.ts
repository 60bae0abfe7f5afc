import { need } from './elements/need.ts';
import { type BenchEntry, type EntryAnswer, EntryQueue } from './models/entry-queue.ts';
import { keptIn } from './models/kept.ts';
import { fittedSize } from './models/shrink.ts';
import { postJson } from './models/talk.ts';

interface Tick extends BenchEntry {
  readonly kind: 'tick';
  readonly step: number;
  readonly state: string;
  readonly note: string;
}
interface Reading extends BenchEntry {
  readonly kind: 'reading';
  readonly typed: Readonly<Record<string, string>>;
}
interface Signature extends BenchEntry {
  readonly kind: 'signature';
  readonly role: string;
  readonly pin: string;
}
type Entry = Tick | Reading | Signature;

const PHOTO_PIXELS = 1280;

/** The sheet of a sign-off: what is put down is sent as it comes, and waits on the phone while the network is away. */
function start(): void {
  const form = need<HTMLFormElement>(document, '#sign-off');
  const { signOff = '', base = '', csrf = '' } = form.dataset;
  if (form.dataset.closed === undefined) wireSheet(form, signOff, base, csrf);
  wirePhoto(need<HTMLFormElement>(document, '#photo-form'));
}

function wireSheet(form: HTMLFormElement, signOff: string, base: string, csrf: string): void {
  const state = need<HTMLElement>(form, '#save-state');
  const kept = keptIn<readonly Entry[]>(`dialbench:sign-off:${signOff}`);
  const left = kept.read() ?? [];
  const stamp = () => ({ clientId: newId(), madeAt: new Date().toISOString() });
  show(form, left);

  const queue = new EntryQueue<Entry>(left, replaces, {
    async send(entries): Promise<EntryAnswer> {
      const answer = await postJson<{ against: string[]; signatures: string[] }>(`${base}/entries`, csrf, {
        entries,
      });
      return answer.how === 'done' ? { how: 'done', ...answer.answer } : answer;
    },
    keep: (unsent) => kept.write(unsent.length === 0 ? null : unsent),
    wait: (milliseconds) => new Promise((resolve) => setTimeout(resolve, milliseconds)),
    tell(now, waiting, message) {
      const words = {
        sent: 'All sent.',
        sending: state.textContent ?? '',
        away: `No connection: ${waiting === 1 ? 'one thing is' : `${waiting} things are`} not sent yet. Keep this page open; it tries again by itself.`,
        refused: message ?? 'This was not taken. Reload the page.',
      };
      if (state.textContent !== words[now]) state.textContent = words[now];
      state.dataset.state = now;
      if (now === 'refused') signProblem(message ?? '');
    },
    arrived({ against, signatures }) {
      showAgainst(against);
      const signing = document.querySelectorAll<HTMLFormElement>('.sign-form');
      // A signature changes what the page offers: it is drawn anew once everything has arrived.
      if ([...signing].some((one) => signatures.includes(one.dataset.role ?? ''))) location.reload();
    },
  });

  form.addEventListener('change', (event) => {
    const { name } = event.target as HTMLInputElement;
    const step = /^[sn](\d+)$/.exec(name)?.[1];
    if (step === undefined) {
      const { value } = event.target as HTMLInputElement;
      return queue.put({ kind: 'reading', typed: { [name]: value }, ...stamp() });
    }
    const picked = form.querySelector<HTMLInputElement>(`input[name="s${step}"]:checked`);
    // A note by itself waits for its tick.
    if (picked === null) return;
    const note = form.querySelector<HTMLInputElement>(`input[name="n${step}"]`)?.value ?? '';
    queue.put({ kind: 'tick', step: Number(step), state: picked.value, note, ...stamp() });
  });
  // Everything has been put down as it changed; the button is for browsers without this script.
  form.addEventListener('submit', (event) => event.preventDefault());
  for (const signing of document.querySelectorAll<HTMLFormElement>('.sign-form')) {
    signing.addEventListener('submit', (event) => {
      event.preventDefault();
      const pin = need<HTMLInputElement>(signing, 'input[name="pin"]');
      queue.put({ kind: 'signature', role: signing.dataset.role ?? '', pin: pin.value, ...stamp() });
      pin.value = '';
    });
  }
}

/** A tick takes the place of an earlier one of its step, a box that of the same box before. */
function replaces(later: Entry, earlier: Entry): boolean {
  if (later.kind === 'tick') return earlier.kind === 'tick' && earlier.step === later.step;
  if (later.kind !== 'reading' || earlier.kind !== 'reading') return false;
  return Object.keys(later.typed)[0] === Object.keys(earlier.typed)[0];
}

/** What a phone kept and could not send before it was reloaded stands on the page again. */
function show(form: HTMLFormElement, entries: readonly Entry[]): void {
  for (const entry of entries) {
    if (entry.kind === 'tick') {
      const radio = form.querySelector<HTMLInputElement>(
        `input[name="s${entry.step}"][value="${entry.state}"]`,
      );
      if (radio) radio.checked = true;
    } else if (entry.kind === 'reading') {
      for (const [name, value] of Object.entries(entry.typed)) {
        const box = form.elements.namedItem(name);
        if (box instanceof HTMLInputElement || box instanceof HTMLSelectElement) box.value = value;
      }
    }
  }
}

function showAgainst(against: readonly string[]): void {
  const list = need<HTMLElement>(document, '#against');
  list.replaceChildren(
    ...against.map((text) => {
      const item = document.createElement('li');
      item.textContent = text;
      return item;
    }),
  );
  need<HTMLElement>(document, '#against-none').hidden = against.length > 0;
}

function signProblem(message: string): void {
  for (const signing of document.querySelectorAll<HTMLFormElement>('.sign-form')) {
    const field = need<HTMLElement>(signing, '.field');
    field.querySelector('.field-problem')?.remove();
    if (message === '' || signing !== document.querySelector('.sign-form')) continue;
    const problem = document.createElement('p');
    problem.className = 'field-problem';
    problem.textContent = message;
    problem.setAttribute('role', 'alert');
    field.insertBefore(problem, field.querySelector('input'));
  }
}

/** Photos of today's phones are ten times what a shop's network carries: they are drawn smaller before they are sent. */
function wirePhoto(form: HTMLFormElement): void {
  const box = need<HTMLInputElement>(form, 'input[type="file"]');
  box.addEventListener('change', async () => {
    const [file] = box.files ?? [];
    if (file === undefined || !file.type.startsWith('image/')) return;
    const smaller = await shrunk(file).catch(() => null);
    if (smaller === null || smaller.size >= file.size) return;
    const chosen = new DataTransfer();
    chosen.items.add(new File([smaller], 'photo.jpg', { type: 'image/jpeg' }));
    box.files = chosen.files;
  });
}

async function shrunk(file: File): Promise<Blob | null> {
  const picture = await createImageBitmap(file);
  const { width, height } = fittedSize(picture.width, picture.height, PHOTO_PIXELS);
  const canvas = document.createElement('canvas');
  Object.assign(canvas, { width, height });
  canvas.getContext('2d')?.drawImage(picture, 0, 0, width, height);
  return new Promise((resolve) => canvas.toBlob(resolve, 'image/jpeg', 0.8));
}

/** `crypto.randomUUID` is missing on plain http, which a shop's own network is. */
function newId(): string {
  const bytes = crypto.getRandomValues(new Uint8Array(16));
  return [...bytes].map((byte) => byte.toString(16).padStart(2, '0')).join('');
}

start();
