/**
 * A name that may stand in a command of Linux, macOS or FreeBSD without quotes: no blank, no sign
 * that a shell reads, no leading `-`. The kernels allow 15 bytes (IFNAMSIZ 16) and Linux refuses
 * `/` and `:` (dev_valid_name; from memory).
 */
const unixDevice = /^[A-Za-z0-9_][A-Za-z0-9_.-]{0,14}$/;

/**
 * A name that may stand between single quotes in PowerShell: letters of any script, digits, blanks
 * and a few signs. No quote of any kind (PowerShell takes typographic ones for `'` too), and none
 * of the wildcards `* ? [ ]` that `-Name` would expand (about_Quoting_Rules, about_Wildcards; from
 * memory).
 */
const windowsAlias = /^[\p{L}\p{N}][\p{L}\p{M}\p{N} ._()#-]{0,63}$/u;

/** The device name if it is safe to print in a command for a Unix shell; undefined otherwise. */
export function unixDeviceName(name: string | undefined): string | undefined {
  return name !== undefined && unixDevice.test(name) ? name : undefined;
}

/** The alias in single quotes if PowerShell reads it as plain text; undefined otherwise. */
export function quotedAlias(name: string | undefined): string | undefined {
  return name !== undefined && windowsAlias.test(name) ? `'${name}'` : undefined;
}
