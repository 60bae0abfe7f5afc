import type { LightMyRequestResponse } from 'fastify';
import type { Agent } from '../../support/agent.ts';
import { fieldsOn } from '../teaching/sheet-form.ts';

/** Confirms what a roster would do, as its page shows it; what was refused is given back as it is. */
export async function confirmed(
  agent: Agent,
  answer: LightMyRequestResponse,
): Promise<LightMyRequestResponse> {
  if (answer.statusCode !== 303) return answer;
  const at = String(answer.headers.location);
  return agent.post(at, fieldsOn((await agent.get(at)).body));
}

/** Pastes a list, looks at it, and confirms. */
export async function pasteRoster(
  agent: Agent,
  sectionId: number,
  pasted: string,
): Promise<LightMyRequestResponse> {
  return confirmed(agent, await agent.post(`/sections/${sectionId}/roster`, { pasted }));
}
