/** Where Debian's package `chromium` has its program. */
export const chromiumProgram = '/usr/bin/chromium';
