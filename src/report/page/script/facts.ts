/**
 * Script: every fact and gap of a port, a link or a node, shown when it is opened. Values are put
 * in as text, never as markup.
 */
export const factsScript = String.raw`
/** @param {Column} column @param {number} at @returns {string} */
function cellAt({ cells, steps }, at) {
  let cell = 0;
  for (let row = 0; row <= at; row += 1) cell += steps[row] ?? 0;
  return cells[cell] ?? '';
}

/** @param {string} kind @param {number} at @param {string} name */
async function factTable(kind, at, name) {
  const { facts } = await unpacked();
  const table = document.createElement('table');
  table.className = 'evidence';
  table.createCaption().textContent = 'Every fact of ' + name;
  const head = table.createTHead().insertRow();
  for (const title of ['fact', 'value', 'source']) {
    const cell = document.createElement('th');
    cell.scope = 'col';
    cell.textContent = title;
    head.append(cell);
  }
  const body = table.createTBody();
  const found = (facts[kind] ?? [])
    .map((column) => ({ column, cell: cellAt(column, at) }))
    .filter(({ cell }) => cell !== '');
  const isGap = (/** @type {{cell: string}} */ { cell }) => cell.startsWith('?');
  for (const { column, cell } of [...found.filter((each) => !isGap(each)), ...found.filter(isGap)]) {
    factRow(body.insertRow(), column, cell);
  }
  return table;
}

/** @param {HTMLTableRowElement} row @param {Column} column @param {string} cell */
function factRow(row, column, cell) {
  const [said = '', source = ''] = cell.slice(1).split('\t');
  const head = document.createElement('th');
  head.scope = 'row';
  head.title = column.meaning;
  head.textContent = column.fact;
  const value = document.createElement(cell.startsWith('?') ? 'i' : 'span');
  value.textContent = cell.startsWith('?') ? 'not known: ' + said : said;
  row.append(head);
  row.insertCell().append(value);
  row.insertCell().textContent = source;
}

/** @param {string} kind @returns {HTMLElement[]} */
function holdersOf(kind) {
  const rows = kind === 'nodes' ? '[data-facts=nodes]' : '[data-facts=' + kind + '] tr[id]';
  return [...document.querySelectorAll(rows)].filter((each) => each instanceof HTMLElement);
}

/** @type {Map<string, Map<HTMLElement, number>>} */
const places = new Map();
/** @param {string} kind @param {HTMLElement} holder */
function placeOf(kind, holder) {
  let known = places.get(kind);
  if (known === undefined) {
    known = new Map(holdersOf(kind).map((each, at) => [each, at]));
    places.set(kind, known);
  }
  return known.get(holder) ?? -1;
}

/**
 * A button that shows the facts in the place that show gives it, and hides them again.
 * @param {HTMLButtonElement} button @param {string} kind @param {HTMLElement} holder
 * @param {(table: HTMLElement) => HTMLElement} show
 */
function opens(button, kind, holder, show) {
  /** @type {HTMLElement | undefined} */
  let shown;
  button.type = 'button';
  button.ariaExpanded = 'false';
  button.addEventListener('click', async () => {
    const open = button.ariaExpanded !== 'true';
    button.ariaExpanded = String(open);
    if (shown !== undefined) { shown.hidden = !open; return; }
    const holderText = document.createElement('div');
    shown = show(holderText);
    try {
      holderText.append(await factTable(kind, placeOf(kind, holder), button.dataset.name ?? ''));
    } catch (trouble) {
      cannotUnpack(holderText, trouble);
    }
  });
}

/** @param {HTMLElement} table */
function openRows(table) {
  if (table.dataset.ready) return;
  table.dataset.ready = 'yes';
  const kind = table.dataset.facts ?? '';
  const node = table.closest('details.node')?.querySelector('summary span')?.textContent;
  for (const row of table.querySelectorAll('tr[id]')) {
    const head = row.querySelector('th');
    if (!(row instanceof HTMLTableRowElement) || head === null) continue;
    const button = document.createElement('button');
    button.textContent = (head.textContent ?? '').trim();
    button.dataset.name = node ? node + ':' + button.textContent : button.textContent;
    head.replaceChildren(button);
    opens(button, kind, row, (content) => {
      const more = document.createElement('tr');
      const cell = more.insertCell();
      cell.colSpan = row.cells.length;
      cell.append(content);
      row.after(more);
      return more;
    });
  }
}

/** @param {HTMLElement} holder */
function openNode(holder) {
  if (holder.dataset.ready) return;
  holder.dataset.ready = 'yes';
  const name = holder.closest('details')?.querySelector('summary span')?.textContent ?? '';
  const button = document.createElement('button');
  button.textContent = 'Every fact of ' + name;
  button.dataset.name = name;
  holder.append(button);
  opens(button, 'nodes', holder, (content) => {
    holder.append(content);
    return content;
  });
}

/** @param {Element} details */
function makeReady(details) {
  for (const each of details.querySelectorAll('[data-facts]')) {
    if (!(each instanceof HTMLElement)) continue;
    if (each instanceof HTMLTableElement) openRows(each);
    else openNode(each);
  }
}

document.addEventListener('toggle', (event) => {
  const { target } = event;
  if (target instanceof HTMLDetailsElement && target.open) makeReady(target);
}, true);
`;
