import { describe, expect, it } from 'vitest';
import { renderMarkdown } from '../../../server/lessons/markdown.ts';

/** What somebody might write to get at whoever reads it. */
const HOSTILE = [
  '<script>alert(1)</script>',
  '<img src=x onerror=alert(1)>',
  '<svg onload=alert(1)>',
  '<iframe src="https://elsewhere.example"></iframe>',
  '<a href="javascript:alert(1)">x</a>',
  '[x](javascript:alert(1))',
  '[x](JaVaScRiPt:alert(1))',
  '[x](java\tscript:alert(1))',
  '[x](&#106;avascript:alert(1))',
  '[x](vbscript:alert(1))',
  '[x](data:text/html,<script>alert(1)</script>)',
  '[x](data:image/png;base64,AAAA)',
  '[x](file:///etc/passwd)',
  '[x](blob:https://a/b)',
  '![x](https://elsewhere.example/a.png)',
  '![x](//elsewhere.example/a.png)',
  '![x](javascript:alert(1))',
  '![x](data:image/svg+xml,<svg/onload=alert(1)>)',
  '![" onerror="alert(1)](/lesson-images/aaaaaaaa-0000-4000-8000-000000000005)',
  '![x](/lesson-images/aaaaaaaa-0000-4000-8000-000000000005 "\\" onload=\\"alert(1)")',
  '![x](/lesson-images/../sign-out)',
  '[x]: javascript:alert(1)\n[x]',
  '<https://elsewhere.example/"onmouseover="alert(1)>',
  '<javascript:alert(1)>',
  '```\n</code></pre><script>alert(1)</script>\n```',
  '`<script>alert(1)</script>`',
  '# <script>alert(1)</script>',
  '| <script>alert(1)</script> |\n|---|\n| <img src=x onerror=alert(1)> |',
  '<style>body{display:none}</style>',
  '<form action="/sign-out"><button>x',
  '&lt;script&gt;alert(1)&lt;/script&gt;',
  '<!-- --><script>alert(1)</script>',
  '\u0000<script>alert(1)</script>',
];

/** Every element and attribute that is really there, once what is only text is out of the way. */
function tagsIn(html: string): readonly string[] {
  return [...html.matchAll(/<([a-z][a-z0-9]*)((?:\s+[^\s=>]+(?:="[^"]*")?)*)\s*\/?>/gi)].map(([tag]) => tag);
}

describe.each(['with-images', 'without-images'] as const)('Markdown %s', (images) => {
  it.each(HOSTILE)('brings nothing of %j to life', (text) => {
    const { html } = renderMarkdown(text, undefined, images);
    for (const tag of tagsIn(html)) {
      expect(tag).toMatch(/^<(p|a|em|strong|code|pre|h1|h2|table|thead|tbody|tr|th|td|ul|li|span|img)\b/);
      expect(tag.replace(/"[^"]*"/g, '""')).not.toMatch(/\son\w+=/i);
      for (const [, name, address = ''] of tag.matchAll(/\b(href|src)="([^"]*)"/g)) {
        expect(address).not.toMatch(/^\s*(javascript|vbscript|data|file|blob):/i);
        if (name === 'src') expect(address).toMatch(/^\/lesson-images\/[0-9a-f-]{36}$/);
      }
    }
    // Every other angle bracket is text.
    expect(html.replace(/<\/?[a-z][^<>]*>/gi, '')).not.toMatch(/[<>]/);
  });
});

it('shows a picture that was uploaded, in an instructor’s lesson alone', () => {
  const text = '![A worn roller](/lesson-images/aaaaaaaa-0000-4000-8000-000000000005)';
  expect(renderMarkdown(text, undefined, 'with-images').html).toContain('alt="A worn roller"');
  expect(renderMarkdown(text).html).not.toContain('<img');
});
