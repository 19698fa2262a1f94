/**
 * Script: unpacks the data of the page once, on first use, and fills in markup that was kept for
 * later. What it inserts was escaped when the page was made.
 */
export const unpackScript = `
/** @typedef {{fact: string, meaning: string, cells: string[], steps: number[]}} Column */
/** @typedef {{facts: Record<string, Column[]>, later: Record<string, string>}} Packed */
/** @type {Promise<Packed> | undefined} */
let unpacking;

/** @returns {Promise<Packed>} */
function unpacked() {
  unpacking ??= unpack();
  return unpacking;
}

async function unpack() {
  const text = document.getElementById('packed')?.textContent ?? '';
  const bytes = Uint8Array.from(atob(text), (unit) => unit.charCodeAt(0));
  const stream = new Blob([bytes]).stream().pipeThrough(new DecompressionStream('deflate-raw'));
  return new Response(stream).json();
}

/** @param {HTMLElement} place @param {unknown} trouble */
function cannotUnpack(place, trouble) {
  place.textContent = 'this browser cannot unpack the details (' + trouble + '); hopgauge audit --format json has them';
}

/** @param {HTMLElement} details */
async function fillLater(details) {
  const place = details.querySelector('.later');
  if (!(place instanceof HTMLElement)) return;
  try {
    const { later } = await unpacked();
    const holder = document.createElement('template');
    holder.innerHTML = later[details.id] ?? '';
    if (place.isConnected) place.replaceWith(holder.content);
    makeReady(details);
  } catch (trouble) {
    cannotUnpack(place, trouble);
  }
}

/** Fills what was kept for later and has an element of that id. @param {string} id */
async function fillWith(id) {
  const { later } = await unpacked();
  const [holder] = Object.entries(later).find(([, text]) => text.includes('id=' + id + '>')) ?? [];
  const details = holder === undefined ? null : document.getElementById(holder);
  if (details !== null) await fillLater(details);
}

document.addEventListener('toggle', (event) => {
  const { target } = event;
  if (target instanceof HTMLDetailsElement && target.open) fillLater(target);
}, true);
`;
