import { openStore } from '../../src/history/open-store.ts';
import { writeNight } from '../../src/history/write-night.ts';
import { eachNight } from './store.ts';

// Writes one night after the other into the store that is named, from the one that is named on,
// and says each that is done. It is ended from outside, wherever it is then.

const [file = '', from = '0'] = process.argv.slice(2);
const store = await openStore(file);
for (let count = Number(from); ; count += 1) {
  await writeNight(store, eachNight(count));
  process.stdout.write(`${count}\n`);
}
