/** Longest name of an intent. */
const nameLengthMax = 64;

/** Names under which every fresh machine calls itself. */
const saysNothing = /^localhost(\.|$)/i;

/** Gives names that an intent accepts, each once: nodes, segments and paths share one set. */
export interface NameGiver {
  /** `wish` made valid; with a number behind it where it is taken. */
  readonly give: (wish: string) => string;
  /** Keeps a name that is used already; false: it is no valid name, or is taken. */
  readonly keep: (name: string) => boolean;
}

/** A giver that has given nothing yet, except `taken`. */
export function nameGiver(taken: Iterable<string> = []): NameGiver {
  const used = new Set(taken);
  return {
    give: (wish) => {
      const base = validName(wish) ?? 'node';
      let name = base;
      for (let next = 2; used.has(name); next += 1) {
        const suffix = `-${next}`;
        name = `${base.slice(0, nameLengthMax - suffix.length)}${suffix}`;
      }
      used.add(name);
      return name;
    },
    keep: (name) => {
      if (validName(name) !== name || used.has(name)) return false;
      used.add(name);
      return true;
    },
  };
}

/** A name made of `text`; undefined where nothing of it can stand in a name. */
export function validName(text: string): string | undefined {
  const name = text
    .slice(0, nameLengthMax * 4)
    .replace(/[^A-Za-z0-9._-]+/g, '-')
    .replace(/^[^A-Za-z0-9]+/, '')
    .slice(0, nameLengthMax)
    .replace(/[._-]+$/, '');
  return name === '' ? undefined : name;
}

/** What to call a machine: its own name without the domain, else where it was reached. */
export function wishedName(systemName: string | undefined, at: string | undefined): string {
  for (const text of [systemName, at]) {
    if (text === undefined || saysNothing.test(text)) continue;
    const name = validName(withoutDomain(text));
    if (name !== undefined) return name;
  }
  return 'node';
}

function withoutDomain(text: string): string {
  if (/^[0-9.]+(:|$)/.test(text) || text.includes(':') || text.startsWith('[')) return text;
  const dot = text.indexOf('.');
  return dot > 0 ? text.slice(0, dot) : text;
}
