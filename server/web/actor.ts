import type { Role } from '../accounts/tables.ts';

/** Who asks. Every scoped query takes one. */
export interface Actor {
  readonly id: number;
  readonly role: Role;
  readonly givenName: string;
  readonly familyName: string;
  readonly signInName: string;
  readonly mustChangePassword: boolean;
  readonly demo: boolean;
  /** An instructor for a day: may run the lab and sign, and nothing else. */
  readonly substitute: boolean;
}

/** How an actor is found by the person's id; undefined when there is no such person any more. */
export type FindActor = (personId: number) => Promise<Actor | undefined>;
