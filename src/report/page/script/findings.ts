/** Script: sorts and filters the table of findings, and says how many are shown. */
export const findingsScript = `
const findingsTable = /** @type {HTMLTableElement | null} */ (document.querySelector('table.findings'));
const findingRows = [...(findingsTable?.tBodies[0]?.rows ?? [])];
const findingHeads = [...(findingsTable?.tHead?.rows[0]?.cells ?? [])];
const findingNames = findingHeads.map((head) => (head.textContent ?? '').trim());
/** @type {Map<string, HTMLSelectElement>} */
const findingSelects = new Map();
const findingSearch = document.createElement('input');

/** @param {HTMLTableRowElement} row @param {string} name */
function findingCell(row, name) {
  return row.cells[findingNames.indexOf(name)];
}

/** What a row can be chosen by: of a finding on two nodes, either.
 * @param {HTMLTableRowElement} row @param {string} name @returns {string[]} */
function choicesOf(row, name) {
  const cell = findingCell(row, name);
  if (cell === undefined) return [];
  if (name === 'node') return [...cell.querySelectorAll('span')].map((each) => each.textContent ?? '');
  return [name === 'life' ? cell.dataset.key ?? '' : (cell.textContent ?? '').trim()];
}

function filterFindings() {
  const wanted = findingSearch.value.trim().toLowerCase();
  let shown = 0;
  for (const row of findingRows) {
    const fits = [...findingSelects].every(
      ([name, { value }]) => value === '' || choicesOf(row, name).includes(value.slice(1)));
    row.hidden = !fits || (wanted !== '' && !(row.textContent ?? '').toLowerCase().includes(wanted));
    if (!row.hidden) shown += 1;
  }
  const count = document.getElementById('findings-count');
  const all = findingRows.length;
  if (count) count.textContent = shown === all ? all + ' findings' : shown + ' of ' + all + ' findings';
}

function showAllFindings() {
  findingSearch.value = '';
  for (const select of findingSelects.values()) select.value = '';
  filterFindings();
}

/** @param {string} words @param {HTMLElement} control */
function labelled(words, control) {
  const label = document.createElement('label');
  label.append(words + ' ', control);
  return label;
}

/** @param {string} name */
function choiceOf(name) {
  const select = document.createElement('select');
  const known = [...new Set(findingRows.flatMap((row) => choicesOf(row, name)))].filter((each) => each !== '');
  if (name !== 'severity') known.sort((a, b) => a.localeCompare(b, 'en', { numeric: true }));
  select.add(new Option('all', ''));
  for (const each of known) select.add(new Option(each, '=' + each));
  select.addEventListener('change', filterFindings);
  findingSelects.set(name, select);
  return labelled(name, select);
}

/** @param {HTMLTableRowElement} row @param {string} name */
function sortKey(row, name) {
  const cell = findingCell(row, name);
  return cell?.dataset.key ?? (cell?.querySelector('summary') ?? cell)?.textContent?.trim() ?? '';
}

/** @param {string} name @param {HTMLElement} head */
function sortBy(name, head) {
  const down = head.ariaSort === 'ascending';
  for (const each of findingHeads) each.removeAttribute('aria-sort');
  head.ariaSort = down ? 'descending' : 'ascending';
  const keys = new Map(findingRows.map((row) => [row, sortKey(row, name)]));
  const sign = down ? -1 : 1;
  const sorted = [...findingRows].sort((a, b) =>
    sign * (keys.get(a) ?? '').localeCompare(keys.get(b) ?? '', 'en', { numeric: true }));
  findingsTable?.tBodies[0]?.append(...sorted);
}

for (const head of findingHeads) {
  const name = (head.textContent ?? '').trim();
  const button = document.createElement('button');
  button.type = 'button';
  button.textContent = name;
  head.replaceChildren(button);
  button.addEventListener('click', () => sortBy(name, head));
}

const findingsFilter = document.getElementById('findings-filter');
if (findingsFilter !== null) {
  findingSearch.type = 'search';
  findingSearch.addEventListener('input', filterFindings);
  const all = document.createElement('button');
  all.type = 'button';
  all.textContent = 'Show all';
  all.addEventListener('click', showAllFindings);
  const names = findingNames.filter((name) => name !== 'finding');
  findingsFilter.append(labelled('search', findingSearch), ...names.map(choiceOf), all);
  findingsFilter.hidden = false;
}
`;
