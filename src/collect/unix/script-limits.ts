/** Interfaces that are looked at one by one: first those with a device, then the others. */
export const devicePortsMax = 128;
/** Interfaces without a device that are looked at one by one. */
export const otherPortsMax = 384;
/** Wired ports with a device whose pause, energy saving, counters and module are asked for. */
export const linePortsMax = 64;
/** Bridges between an adapter and its processor that are looked at. */
export const busBridgesMax = 8;
/** Lines that are taken of one driver's own counters. */
export const counterLinesMax = 200;
/** Mounted file servers that routes are asked for. */
export const mountRoutesMax = 16;
/** Hardware ports that macOS is asked about one by one. */
export const hardwarePortsMax = 32;
/** Aggregates that are looked at one by one. */
export const bondsMax = 32;
/** Lines of live sessions that are taken. */
export const sessionLinesMax = 4000;
/** Seconds that macOS may take to report its hardware; what takes longer is left out. */
export const profileSecondsMax = 5;
