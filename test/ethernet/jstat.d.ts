/** The part of a general statistics library that tests use as oracle; it ships no types. */
declare module 'jstat' {
  const jstat: {
    readonly chisquare: { readonly inv: (p: number, degrees: number) => number };
  };
  export = jstat;
}
