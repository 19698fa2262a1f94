/** Words of the language and functions of the script that stand where a command may stand. */
const language = new Set([
  ...['function', 'foreach', 'if', 'else', 'try', 'catch', 'finally', 'exit', 'in', 'break'],
  ...['Put', 'Run', 'Tell'],
]);

/** Types of the language itself, which only turn one value into another. */
const plainTypes = new Set(['string', 'int', 'int64', 'byte', 'pscustomobject']);

/**
 * The cmdlets of a script, in its order. A bare word where a command may stand that is neither one
 * nor of the language throws: it would be a program.
 */
export function cmdletsOf(script: string): readonly string[] {
  const found: string[] = [];
  // Keys of a hash stand where a command may stand, and are followed by an equals sign.
  const bare = script.replaceAll(/'[^'\n]*'|"[^"\n]*"/g, "''");
  for (const [, word = '', after = ''] of bare.matchAll(
    /(?:^|[\n;|{(&=]|\bin\b)[ ]*(?!\$)([A-Za-z][\w.-]*)( *=)?/g,
  )) {
    if (after !== '' || language.has(word)) continue;
    if (!/^[A-Z][a-z]+(?:[A-Z][a-z]+)*-[A-Z]\w+$/.test(word))
      throw new Error(`${word}: not a cmdlet`);
    found.push(word);
  }
  return found;
}

/** The types of .NET that a script names. */
export function typesOf(script: string): readonly string[] {
  const bare = script.replaceAll(/'[^'\n]*'/g, "''");
  return [...bare.matchAll(/\[([A-Za-z][\w.]*)\]|New-Object ([\w.]+)/g)]
    .map(([, cast, made]) => cast ?? made ?? '')
    .filter((name) => !plainTypes.has(name));
}

/** The methods that a script calls. */
export function methodsOf(script: string): readonly string[] {
  return [...script.matchAll(/(?:\.|::)(\w+)\(/g)].map(([, name = '']) => name);
}
