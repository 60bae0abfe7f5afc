import { describe, expect, it } from 'vitest';
import { z } from 'zod';
import { readForm, readId } from '../../../server/web/forms.ts';
import { noticeFor } from '../../../server/web/notices.ts';

const schema = z.object({ name: z.string().min(1, 'Type a name.'), secret: z.string().min(3, 'Too short.') });

describe('a form', () => {
  it('gives its value when all is well', () => {
    const form = readForm(schema, { name: 'A', secret: 'abc', _csrf: 'x' });
    expect(form).toMatchObject({ ok: true, value: { name: 'A', secret: 'abc' }, problems: {} });
  });

  it('gives back what was typed with the problem at its field, but never what is secret or the token', () => {
    const form = readForm(schema, { name: '', secret: 'ab', other: 'kept', _csrf: 'x' }, ['secret']);
    expect(form).toEqual({
      ok: false,
      values: { name: '', other: 'kept' },
      problems: { name: 'Type a name.', secret: 'Too short.' },
    });
  });

  it.each([null, undefined, 'text', 7, []])('survives a body of %j', (body) => {
    expect(readForm(schema, body).ok).toBe(false);
  });
});

describe('readId', () => {
  it('reads whole numbers from 1', () => expect(readId('12')).toBe(12));
  it.each(['0', '01', '-1', '1.5', 'x', '', undefined, '1e3', '9999999999999999'])(
    'finds nothing at %j',
    (text) => {
      expect(() => readId(text)).toThrow('There is no such page');
    },
  );
});

describe('a notice', () => {
  it('is one of our own sentences or none', () => {
    expect(noticeFor('signed-out')).toBe('You are signed out.');
    for (const said of ['<b>', 'constructor', '__proto__', ['signed-out'], undefined]) {
      expect(noticeFor(said)).toBeUndefined();
    }
  });
});
