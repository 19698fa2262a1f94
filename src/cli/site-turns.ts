import { clean } from '../report/layout.ts';
import type { Io } from './io.ts';
import type { AuditOptions } from './options.ts';

/** The outputs of one site of several, and when they are shown. */
export interface SiteTurn {
  /** Keep what is written until the turn has come. */
  readonly outputs: Pick<Io, 'stdout' | 'stderr'>;
  /** Shows what is kept, when the sites before it have ended. */
  readonly tell: () => Promise<void>;
  /** Lets the next site show its own. */
  readonly end: () => void;
}

/**
 * Turns on the outputs of a run, in the order in which they are asked for. The audit of a site that
 * has something to show and asks whether all is `settled` waits for its turn: what it then keeps has
 * been shown.
 */
export function turnsOn(io: Io, { changes }: AuditOptions): (site: string) => SiteTurn {
  let last = Promise.resolve();
  let shown = false;
  return (site) => {
    const before = last;
    let end = () => {};
    last = new Promise((done) => {
      end = done;
    });
    const said = { out: '', err: '' };
    let begun = false;
    const tell = async () => {
      await before;
      const { out, err } = said;
      Object.assign(said, { out: '', err: '' });
      // A site that has nothing to say does not show.
      if (out !== '') {
        const name = changes === true ? '' : `${clean(site)}\n\n`;
        io.stdout.write(`${begun ? '' : `${shown ? '\n' : ''}${name}`}${out}`);
        shown = true;
        begun = true;
      }
      io.stderr.write(err.replace(/^(?=.)/gm, `${clean(site)}: `));
    };
    const into = (name: 'out' | 'err') => (text: string) => {
      said[name] += text;
    };
    const settled = async () => {
      // Who shows nothing keeps its history for nobody, and leaves what failed to whom it befell.
      if (!begun && said.out === '') return undefined;
      await tell();
      return io.stdout.settled?.();
    };
    const outputs = {
      stdout: { ...io.stdout, write: into('out'), settled },
      // Without progress: several sites would move one line.
      stderr: { ...io.stderr, isTerminal: false, write: into('err') },
    };
    return { outputs, tell, end };
  };
}
