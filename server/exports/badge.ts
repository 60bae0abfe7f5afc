import { createHash } from 'node:crypto';
import { type Competency, itemAddress, ruleWords, STATE_WORDS } from '../competencies/index.ts';
import { issuerProfile } from '../credentials/index.ts';
import type { Program } from '../program/index.ts';
import { uuidOfName } from '../web/uuid.ts';
import type { RecordedRun, RecordedSignOff, RecordedStanding } from './record.ts';

export interface BadgeSubject {
  readonly uuid: string;
  readonly name: string;
  readonly studentNumber: string;
}

/**
 * That somebody holds a competency, as an Open Badges 3.0 credential with the claims a VC-JWT asks for: `iss`, `jti`, `sub`, and `nbf`, which equals
 * `validFrom`, so that is in whole seconds. Null where it is not held. The student number is hashed: whoever knows it can check that it is theirs.
 * Source: Open Badges 3.0, integrity section and schema.
 */
export function badgeOf(
  one: RecordedStanding,
  subject: BadgeSubject,
  from: { readonly program: Program; readonly address: string; readonly asOf: string },
): Record<string, unknown> | null {
  const { competency, standing } = one;
  const isHeld = standing.state === 'held' || standing.state === 'granted';
  if (!isHeld || standing.since === null) return null;
  const issuer = issuerProfile(from.program, from.address);
  const validFrom = wholeSeconds(standing.since);
  const validUntil = standing.until === null ? null : wholeSeconds(standing.until);
  const seconds = (at: string) => Math.floor(Date.parse(at) / 1000);
  // One credential for one holding: taken out again it is the same one.
  const id = `urn:uuid:${uuidOfName(`credential ${subject.uuid} ${competency.uuid} ${standing.since}`)}`;
  const subjectId = `urn:uuid:${subject.uuid}`;
  return {
    '@context': [
      'https://www.w3.org/ns/credentials/v2',
      'https://purl.imsglobal.org/spec/ob/v3p0/context-3.0.3.json',
    ],
    ...{ id, type: ['VerifiableCredential', 'OpenBadgeCredential'], name: competency.title, issuer },
    validFrom,
    ...(validUntil === null ? {} : { validUntil }),
    credentialSubject: {
      ...{ id: subjectId, type: ['AchievementSubject'] },
      identifier: identifiersOf(subject),
      achievement: achievementOf(competency, standing.ruleVersion, from.address),
      narrative: `${STATE_WORDS[standing.state]}, as of ${from.asOf}.`,
    },
    ...evidenceOf(one),
    credentialSchema: [
      {
        id: 'https://purl.imsglobal.org/spec/ob/v3p0/schema/json/ob_v3p0_achievementcredential_schema.json',
        type: '1EdTechJsonSchemaValidator2019',
      },
    ],
    ...{ iss: issuer.id, jti: id, sub: subjectId, nbf: seconds(validFrom) },
    ...(validUntil === null ? {} : { exp: seconds(validUntil) }),
  };
}

function wholeSeconds(at: string): string {
  return `${at.slice(0, 19)}Z`;
}

function identifiersOf({ uuid, name, studentNumber }: BadgeSubject) {
  const hash = createHash('sha256').update(studentNumber).update(uuid).digest('hex');
  return [
    { type: 'IdentityObject', hashed: false, identityHash: name, identityType: 'name' },
    {
      ...{ type: 'IdentityObject', hashed: true, identityHash: `sha256$${hash}`, salt: uuid },
      identityType: 'sisSourcedId',
    },
  ];
}

function achievementOf(competency: Competency, ruleVersion: number | null, address: string) {
  const { uuid, code, title, statement, rules } = competency;
  const rule = rules.find(({ version }) => version === ruleVersion)?.rule ?? competency.rule;
  return {
    ...{ id: `urn:uuid:${uuid}`, type: ['Achievement'], achievementType: 'Competency' },
    ...{ name: title, description: statement || title, humanCode: code },
    criteria: { narrative: `By version ${ruleVersion ?? ''} of the rule: ${ruleWords(rule)}` },
    alignment: [
      {
        ...{ type: ['Alignment'], targetName: title, targetCode: code, targetType: 'CFItem' },
        targetUrl: itemAddress(address, uuid),
      },
    ],
  };
}

function evidenceOf({ runs, signOffs, standing }: RecordedStanding) {
  const evidence = [
    ...runs.map(runEvidence),
    ...signOffs.map(signOffEvidence),
    ...(standing.state === 'granted'
      ? [
          {
            type: ['Evidence'],
            name: "Coordinator's word",
            narrative: 'Held by the word of the coordinator.',
          },
        ]
      : []),
  ];
  return evidence.length === 0 ? {} : { evidence };
}

function runEvidence(run: RecordedRun) {
  return {
    ...{ type: ['Evidence'], name: run.itemTitle, genre: 'practice engine' },
    narrative: `Handed in ${run.at}: ${run.points.toFixed(1)} of ${run.outOf.toFixed(0)} points, graded by measuring engine ${run.gradedByEngine}.`,
  };
}

function signOffEvidence({ at, facts }: RecordedSignOff) {
  const tool = (name: string, one: { number: string; dueOn: string | null } | null) =>
    one === null ? '' : ` With ${name} ${one.number}${one.dueOn === null ? '' : `, check due ${one.dueOn}`}.`;
  const counter = facts.countersignedBy === '' ? '' : ` by ${facts.countersignedBy}`;
  return {
    ...{ type: ['Evidence'], name: facts.item, genre: 'shop engine' },
    narrative: `Signed ${at} by ${facts.assessor} (${facts.assessorStanding}${counter}).${tool('indicator', facts.gauge)}${tool('torque wrench', facts.wrench)}`,
  };
}
