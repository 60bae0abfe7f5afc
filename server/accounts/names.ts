interface Named {
  readonly given_name: string;
  readonly family_name: string;
}

/** As on a roster: `Okonjo-Brandt, Adaeze`. */
export function listName(person: Named): string {
  return `${person.family_name}, ${person.given_name}`;
}

/** As spoken: `Adaeze Okonjo-Brandt`. */
export function displayName(person: Named): string {
  return `${person.given_name} ${person.family_name}`;
}
