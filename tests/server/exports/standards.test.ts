import { createPublicKey, type JsonWebKey, verify } from 'node:crypto';
import { existsSync, readdirSync, readFileSync } from 'node:fs';
import Ajv2019 from 'ajv/dist/2019.js';
import Ajv2020 from 'ajv/dist/2020.js';
import AjvDraft04 from 'ajv-draft-04';
import addFormats from 'ajv-formats';
import { afterAll, beforeAll, describe, expect, it } from 'vitest';
import { fromRoot } from '../../../server/root.ts';
import { type Agent, visitor } from '../../support/agent.ts';
import { type TestApp, testApp } from '../../support/build.ts';
import { givenAttempt } from '../../support/given-attempt.ts';
import { givenShopItem, givenSignOff } from '../../support/given-shop-work.ts';
import { sessionFor } from '../../support/session.ts';
import { ONE_RUN, ruleInForce } from '../support/rule-in-force.ts';

/** Published schemas, which are not ours to hand on: they stay beside the project. */
const SCHEMAS = fromRoot('..', 'shared', 'standards', 'schemas');
const HAS_SCHEMAS = existsSync(SCHEMAS);
if (!HAS_SCHEMAS)
  console.warn(
    `LEFT OUT: ${SCHEMAS} is not there, so credentials and statements were not held against their published schemas.`,
  );
const schema = (...path: string[]) => JSON.parse(readFileSync([SCHEMAS, ...path].join('/'), 'utf8'));

describe('what leaves in the forms of open standards', () => {
  let built: TestApp;
  let coordinator: Agent;
  beforeAll(async () => {
    built = await testApp();
    const { store } = built;
    const shopItem = await givenShopItem(store);
    await ruleInForce(store, 2, { ...ONE_RUN, holds: { months: 12 } }, '2026-09-01T00:00:00.000Z', [
      3,
      5,
      shopItem,
    ]);
    for (const [index, signInName] of ['003201', '003202'].entries()) {
      const about = { signInName, sectionId: 1, itemId: 3 };
      await givenAttempt(store, {
        ...{ ...about, id: `11111111-2222-4333-8444-55555555555${index}`, seed: `standards-${index}` },
        at: '2026-09-10T10:00:00.250Z',
      });
    }
    await givenSignOff(store, {
      ...{ id: '99999999-2222-4333-8444-555555555555', signInName: '003201', sectionId: 1 },
      ...{ itemId: shopItem, at: '2026-09-11T10:00:00.750Z' },
    });
    coordinator = await sessionFor(built, 'vossberg');
    await coordinator.post('/program', {
      name: 'Harrow Creek diesel program',
      address: 'https://dialbench.example/',
    });
  });
  afterAll(() => built.close());

  const take = (form: string, more: Record<string, string> = {}) =>
    coordinator.post('/exports', {
      ...{ form, competencies: '', people: '', asOf: '', recipient: 'Northgate Diesel', purpose: 'hiring' },
      ...more,
    });
  const linesOf = (body: string) =>
    body
      .trim()
      .split('\n')
      .map((line) => JSON.parse(line));
  const badge = async (): Promise<string> => linesOf((await take('badges')).body)[0].jwt;
  const decoded = (part: string | undefined) => JSON.parse(Buffer.from(part ?? '', 'base64url').toString());

  /** By Node's own cryptography, not the library that signed. */
  async function isSigned(jwt: string): Promise<boolean> {
    const [head, payload, signature] = jwt.split('.');
    const address = new URL(decoded(head).kid);
    expect(address.origin).toBe('https://dialbench.example');
    const { statusCode, body } = await visitor(built.app).get(address.pathname);
    expect(statusCode).toBe(200);
    const jwk = JSON.parse(body) as JsonWebKey;
    expect(Object.keys(jwk)).not.toContain('d');
    const key = createPublicKey({ key: jwk, format: 'jwk' });
    return verify(
      'RSA-SHA256',
      Buffer.from(`${head}.${payload}`),
      key,
      Buffer.from(signature ?? '', 'base64url'),
    );
  }

  it('gives a credential only to whoever holds it, with the claims a VC-JWT must have', async () => {
    const lines = linesOf((await take('badges')).body);
    expect(lines.map(({ studentNumber }) => studentNumber)).toEqual(['003201']);
    const [head, payload] = lines[0].jwt
      .split('.')
      .map((part: string, index: number) => (index < 2 ? decoded(part) : part));
    expect(Object.keys(head).sort()).toEqual(['alg', 'kid', 'typ']);
    expect(head.alg).toBe('RS256');
    expect(payload).toMatchObject({
      ...{ iss: payload.issuer.id, jti: payload.id, sub: payload.credentialSubject.id },
      ...{ validFrom: '2026-09-11T10:00:00Z', validUntil: '2027-09-11T10:00:00Z' },
      nbf: Date.parse('2026-09-11T10:00:00Z') / 1000,
      exp: Date.parse('2027-09-11T10:00:00Z') / 1000,
    });
    expect(payload).not.toHaveProperty('vc');
    expect(JSON.stringify(payload.evidence)).toContain('shop engine');
    expect(JSON.stringify(payload)).not.toContain('003201');
    expect(decoded((await badge()).split('.')[1]).id).toBe(payload.id);
  });

  it('signs so that anybody can check it, and a changed byte fails', async () => {
    const jwt = await badge();
    expect(await isSigned(jwt)).toBe(true);
    const [head = '', payload = '', signature = ''] = jwt.split('.');
    const bytes = Buffer.from(payload, 'base64url');
    for (let at = 0; at < bytes.length; at += 97) {
      const changed = Buffer.from(bytes);
      changed.writeUInt8(changed.readUInt8(at) ^ 1, at);
      expect(await isSigned(`${head}.${changed.toString('base64url')}.${signature}`)).toBe(false);
    }
    const other = Buffer.from(signature, 'base64url');
    other.writeUInt8(other.readUInt8(7) ^ 1, 7);
    expect(await isSigned(`${head}.${payload}.${other.toString('base64url')}`)).toBe(false);
  });

  it('rotates its keys, and what the old one signed can still be checked', async () => {
    const before = await badge();
    expect((await coordinator.post('/program/keys', {})).statusCode).toBe(303);
    const after = await badge();
    expect(decoded(after.split('.')[0]).kid).not.toBe(decoded(before.split('.')[0]).kid);
    expect(await isSigned(before)).toBe(true);
    expect(await isSigned(after)).toBe(true);
    const { keys } = JSON.parse((await visitor(built.app).get('/keys')).body);
    expect(keys).toHaveLength(2);
    // The private part is nowhere in the clear.
    const rows = await built.store.db.selectFrom('signing_keys').selectAll().execute();
    for (const row of rows) expect(JSON.stringify(row)).not.toMatch(/"(d|p|q|dp|dq|qi)"/);
  });

  it.skipIf(!HAS_SCHEMAS)(
    'credentials hold against the schemas of Open Badges 3.0 and of W3C VC 2.0',
    async () => {
      const payload = decoded((await badge()).split('.')[1]);
      // Source: 1EdTech openbadges-specification, achievementcredential.json; W3C vc-data-model 2.0.
      const badges = addFormats.default(new Ajv2019.default({ strict: false }));
      const openBadge = badges.compile(schema('openbadges-3.0', 'achievementcredential.json'));
      expect(openBadge(payload), JSON.stringify(openBadge.errors)).toBe(true);
      expect(openBadge({ ...payload, issuer: { ...payload.issuer, type: 'Profile' } })).toBe(false);
      const { validFrom: _, ...undated } = payload;
      expect(openBadge(undated)).toBe(false);
      const w3c = addFormats.default(new Ajv2020.default({ strict: false }));
      const credential = w3c.compile(schema('vc-data-model-2.0', 'verifiable-credential-schema.json'));
      expect(credential(payload), JSON.stringify(credential.errors)).toBe(true);
      expect(credential({ ...payload, '@context': 'https://example.org' })).toBe(false);
      const profile = badges.compile(schema('openbadges-3.0', 'profile.json'));
      const issuer = JSON.parse((await visitor(built.app).get('/issuer')).body);
      expect(profile(issuer), JSON.stringify(profile.errors)).toBe(true);
      expect(issuer.id).toBe(payload.issuer.id);
    },
  );

  it('says of each run and each sign-off an xAPI statement, of people without their names', async () => {
    const { body } = await take('statements');
    const statements = linesOf(body);
    expect(statements.map(({ verb }) => verb.id.split('/').at(-1))).toEqual([
      'completed',
      'completed',
      'passed',
    ]);
    expect(new Set(statements.map(({ id }) => id)).size).toBe(3);
    const people = await built.store.db
      .selectFrom('people')
      .selectAll()
      .where('role', '=', 'student')
      .execute();
    for (const { family_name, student_number } of people) {
      expect(body).not.toContain(family_name);
      expect(body).not.toContain(String(student_number));
    }
    expect(statements[0].context.registration).toBe('11111111-2222-4333-8444-555555555550');
    expect((await take('statements', { asOf: '2026-09-10' })).body.trim().split('\n')).toHaveLength(2);
  });

  it.skipIf(!HAS_SCHEMAS)('statements hold against the published schema of xAPI', async () => {
    // Source: RusticiSoftware/TinCanSchema 1.0.1, joined by the names its parts have.
    const ajv = new AjvDraft04.default({ strict: false, unicodeRegExp: false });
    const formats = schema('xapi-1.0.1', 'formats', 'formats.json') as Record<string, string>;
    for (const [name, pattern] of Object.entries(formats)) ajv.addFormat(name, new RegExp(pattern));
    const parts = readdirSync(`${SCHEMAS}/xapi-1.0.1`).filter((name) => name.endsWith('.json'));
    const joined = {
      $schema: 'http://json-schema.org/draft-04/schema#',
      id: 'xapi',
      definitions: Object.fromEntries(
        parts.map((name) => [name.replace('.json', ''), schema('xapi-1.0.1', name)]),
      ),
      $ref: '#statement',
    };
    const isStatement = ajv.compile(joined);
    for (const statement of linesOf((await take('statements')).body))
      expect(isStatement(statement), JSON.stringify(isStatement.errors)).toBe(true);
    const [first] = linesOf((await take('statements')).body);
    expect(isStatement({ ...first, actor: { name: 'nobody' } })).toBe(false);
    expect(isStatement({ ...first, result: { ...first.result, score: { scaled: 2 } } })).toBe(false);
    expect(isStatement({ ...first, other: 1 })).toBe(false);
  });

  it('gives the framework as CASE, and each competency where credentials lead to', async () => {
    const framework = JSON.parse((await take('framework')).body);
    expect(framework.CFItems.map((one: { humanCodingScheme: string }) => one.humanCodingScheme)).toContain(
      'IC-LIFT',
    );
    const payload = decoded((await badge()).split('.')[1]);
    const { targetUrl } = payload.credentialSubject.achievement.alignment[0];
    const item = JSON.parse((await visitor(built.app).get(new URL(targetUrl).pathname)).body);
    expect(framework.CFItems).toContainEqual(item);
    const { identifier } = framework.CFDocument;
    const published = await visitor(built.app).get(`/ims/case/v1p1/CFPackages/${identifier}`);
    expect(JSON.parse(published.body)).toEqual(framework);
  });

  it('makes OneRoster results of a section that name the competencies', async () => {
    const refused = await take('oneroster', { asOf: '2026-09-10' });
    expect(refused.statusCode).toBe(422);
    expect(refused.body).toContain('Choose a section');
    const { headers, rawPayload } = await take('oneroster', { people: 'section-1' });
    expect(headers['content-type']).toBe('application/zip');
    expect(namesIn(rawPayload)).toContain('resultLearningObjectiveIds.csv');
  });
});

/** Names of files in a zip, from its local headers. Source: PKWARE APPNOTE 4.3.7. */
function namesIn(zip: Buffer): string[] {
  const names: string[] = [];
  for (let at = zip.indexOf('PK\u0003\u0004'); at >= 0; at = zip.indexOf('PK\u0003\u0004', at + 4))
    names.push(zip.toString('utf8', at + 30, at + 30 + zip.readUInt16LE(at + 26)));
  return names;
}
