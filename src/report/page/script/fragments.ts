/**
 * Script: a fragment opens what it names, whatever is shut or filtered around it, and gives it the
 * focus. On paper every finding is open.
 */
export const fragmentsScript = `
/** @param {HTMLElement} target */
function reveal(target) {
  if (target.closest('table.findings tr')?.matches('[hidden]')) showAllFindings();
  if (target.hidden || target.closest('details.node[hidden]')) showAllPorts();
  for (let at = /** @type {HTMLElement | null} */ (target); at !== null; at = at.parentElement) {
    if (at instanceof HTMLDetailsElement) {
      at.open = true;
      makeReady(at);
    }
  }
  const button = target instanceof HTMLTableRowElement ? target.querySelector('button') : null;
  if (button !== null && button.ariaExpanded !== 'true') button.click();
  const focused = button ?? (target instanceof HTMLDetailsElement ? target.querySelector('summary') : null) ?? target;
  if (focused === target) target.tabIndex = -1;
  focused.focus({ preventScroll: true });
  target.scrollIntoView({ block: 'start' });
}

async function openFragment() {
  const id = location.hash.slice(1);
  if (id === '') return;
  if (document.getElementById(id) === null) await fillWith(id);
  const target = document.getElementById(id);
  if (target !== null) reveal(target);
}

addEventListener('hashchange', openFragment);
document.addEventListener('click', (event) => {
  const link = event.target instanceof Element ? event.target.closest('a') : null;
  if (link !== null && link.getAttribute('href') === location.hash) openFragment();
});
// Not before the browser has looked for the fragment itself, since that takes the focus away.
addEventListener('load', () => setTimeout(openFragment));

/** @type {HTMLDetailsElement[]} */
let openedForPaper = [];
addEventListener('beforeprint', () => {
  openedForPaper = [...document.querySelectorAll('details.finding:not([open])')]
    .filter((each) => each instanceof HTMLDetailsElement);
  for (const each of openedForPaper) each.open = true;
});
addEventListener('afterprint', () => {
  for (const each of openedForPaper) each.open = false;
});
`;
