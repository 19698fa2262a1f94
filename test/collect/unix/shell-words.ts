/** Words of the shell itself: they run no program. */
const builtins: ReadonlySet<string> = new Set([
  ...['[', 'case', 'cd', 'continue', 'break', 'do', 'done', 'else', 'esac', 'exit', 'export'],
  ...['fi', 'for', 'if', 'in', 'printf', 'pwd', 'read', 'return', 'set', 'shift', 'then', 'while'],
]);

/** Redirections of a script, as written. */
export function redirectionsOf(script: string): readonly string[] {
  return stripped(script).match(/\d?[<>]+(?:&[\d-]|[^\s;)]*)/g) ?? [];
}

/**
 * Programs that a script can run: the first word of every command, and what it passes to `run`,
 * less the shell's own words and the functions that the script defines. `"$@"` stands for what
 * was passed to `run`.
 */
export function commandsOf(script: string): readonly string[] {
  const functions = new Set([...script.matchAll(/^(\w+)\(\) \{/gm)].map((match) => match[1] ?? ''));
  const text = stripped(script);
  const found: string[] = [];
  for (const piece of text.split(/\n|;;|;|&&|\|\||\||\$\(|\(|\)|\{|\}/)) {
    for (const word of firstWords(piece.trim())) {
      if (builtins.has(word) || functions.has(word) || word === 'Q') continue;
      if (!/^[\w.-]+$/.test(word)) throw new Error(`cannot tell what "${word}" runs`);
      found.push(word);
    }
  }
  return found;
}

/** The script without quoted text, assignments' values and patterns, so that words are words. */
function stripped(script: string): string {
  return script
    .replace(/'[^']*'/g, 'Q')
    .replace(/\$\{[^}]*\}/g, 'Q')
    .replace(/\$\(\([^)]*\)\)/g, 'Q')
    .replace(/"(?:[^"$]|\$(?!\())*"/g, 'Q');
}

function firstWords(piece: string): readonly string[] {
  let words = piece.split(/\s+/).filter((word) => word !== '' && !/[<>]/.test(word));
  while (/^(?:if|then|else|do|while|!)$/.test(words[0] ?? '')) words = words.slice(1);
  while (/^\w+=/.test(words[0] ?? '')) words = words.slice(1);
  const [first, second, third] = words;
  if (first === undefined || /^(?:for|case|in)$/.test(first)) return [];
  // A pattern of `case`, such as `nfs` or `-*`, that stood before a bracket.
  if (
    words.length === 1 &&
    /^(?:Linux|Darwin|FreeBSD|nfs|nfs4|cifs|smb3|smbfs|\W.*|Q)$/.test(first)
  )
    return [];
  if (/[*\\:,=]/.test(first) || first.startsWith('-')) return [];
  if (first === 'run') return third === undefined || second === undefined ? [] : [third];
  return [first];
}
