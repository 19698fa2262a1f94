/** Largest intent file that is read, in bytes. */
export const intentFileBytesMax = 1024 * 1024;

/** Files of one intent, the named one included. */
export const intentFilesMax = 64;

/** How deep includes may nest; the named file is at depth 0. */
export const includeDepthMax = 8;

/** Aliases (`*name`) in one YAML file. */
export const yamlAliasesMax = 100;

/** Values in one YAML file after its aliases are expanded. */
export const yamlValuesMax = 300_000;

/** Open collections of the YAML parser: composing recurses, and a deep stack kills the process. */
export const yamlDepthMax = 64;

/** Nodes of one intent, all files together. */
export const nodesMax = 10_000;

/** Links of one intent, all files together. */
export const linksMax = 100_000;

/** Segments of one intent, all files together. */
export const segmentsMax = 10_000;

/** Paths of one intent, all files together. */
export const pathsMax = 10_000;

/** Pieces of one run. */
export const runPiecesMax = 64;

/** Names in one list of the intent. */
export const listItemsMax = 1_000;

/** Pairs of ends of one path, after segments are replaced by their nodes. */
export const pathPairsMax = 10_000;

/** Pairs of ends of all paths with `fit: nightly`: each costs some seconds of the night. */
export const nightlyPairsMax = 100;

/** Faults told at once; one more says how many are not told. */
export const faultsMax = 200;

/** Stations that may be declared to stand behind one port. */
export const stationsBehindMax = 65_535;
