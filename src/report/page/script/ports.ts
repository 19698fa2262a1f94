/** Script: searches all ports, and opens the nodes that have what is looked for while they are few. */
export const portsScript = `
/** Rows beyond which nodes with a match stay shut: each says how many it has by being there. */
const rowsOpenedMax = 200;
const portSearch = document.createElement('input');
/** @type {{node: HTMLDetailsElement, rows: {row: HTMLElement, text: string}[]}[]} */
let portTexts = [];

function readPortTexts() {
  if (portTexts.length > 0) return;
  portTexts = [...document.querySelectorAll('details.node')].flatMap((node) => {
    if (!(node instanceof HTMLDetailsElement)) return [];
    const name = node.querySelector('summary span')?.textContent ?? '';
    const rows = [...node.querySelectorAll('tr[id]')].flatMap((row) => row instanceof HTMLElement
      ? [{ row, text: (name + ':' + [...row.children].map((each) => each.textContent?.trim()).join(' ')).toLowerCase() }]
      : []);
    return [{ node, rows }];
  });
}

function filterPorts() {
  readPortTexts();
  const wanted = portSearch.value.trim().toLowerCase();
  let shown = 0;
  for (const { node, rows } of portTexts) {
    let here = 0;
    for (const { row, text } of rows) {
      row.hidden = !text.includes(wanted);
      const more = row.nextElementSibling;
      if (more instanceof HTMLElement && more.id === '') more.hidden = row.hidden || row.querySelector('button')?.ariaExpanded !== 'true';
      if (!row.hidden) here += 1;
    }
    node.hidden = wanted !== '' && here === 0 && !node.id.slice(5).toLowerCase().includes(wanted);
    shown += here;
  }
  if (wanted !== '' && shown <= rowsOpenedMax) {
    for (const { node } of portTexts) if (!node.hidden) node.open = true;
  }
  const count = document.getElementById('ports-count');
  if (count) count.textContent = wanted === '' ? '' : shown === 1 ? '1 port' : shown + ' ports';
}

function showAllPorts() {
  portSearch.value = '';
  filterPorts();
}

const portsFilter = document.getElementById('ports-filter');
if (portsFilter !== null) {
  portSearch.type = 'search';
  portSearch.addEventListener('input', filterPorts);
  portsFilter.append(labelled('search ports', portSearch));
  portsFilter.hidden = false;
}
`;
