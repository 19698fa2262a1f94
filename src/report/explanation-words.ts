import type {
  BusExplanation,
  Explanation,
  FigureGiven,
  LinkExplanation,
  WindowExplanation,
} from '../diagnose/explanation.ts';
import { standardPacketBytes, wireBytes } from '../ethernet/frame-size.ts';
import { goodputMbps, type HeaderStack, segmentBytes } from '../ethernet/goodput.ts';
import { busRange, busWords } from '../ethernet/host-bus.ts';
import { connectionsToFill } from '../ethernet/tcp-window.ts';
import { speedWords } from './fact-words.ts';
import { offWords, rounded } from './figures.ts';

/** An explanation in words: what, how it comes out, what to look at. */
export interface ExplanationWords {
  readonly title: string;
  readonly reckoning: readonly string[];
  readonly next: string;
}

/** The packet that larger ones are compared by. */
const jumboPacketBytes = 9000;

/** An explanation in words. */
export function explanationWords(explanation: Explanation, given: FigureGiven): ExplanationWords {
  switch (explanation.kind) {
    case 'link':
      return linkWords(explanation, given);
    case 'window':
      return windowWords(explanation, given);
    default:
      return busExplanationWords(explanation);
  }
}

function linkWords(link: LinkExplanation, given: FigureGiven): ExplanationWords {
  const { rateMbps, packetBytes, stack, expectedMbps } = link;
  const share = `${segmentBytes(packetBytes, stack)} / ${wireBytes(packetBytes, stack.tags)}`;
  const also = alsoWords(link.alsoStacks);
  return {
    title: linkTitle(link, given),
    reckoning: [
      `${rateMbps} Mb/s x ${share} = ${rounded(expectedMbps, 1)} Mb/s, with ${stackWords(stack)}; ${offWords(link.offShare)}`,
      `at this rate any MTU ${rangeWords(link)} fits the figure`,
      ...(also === '' ? [] : [`other headers fit as well: ${also}`]),
    ],
    next: linkNext(link, given),
  };
}

function linkTitle({ role, rateMbps, packetBytes }: LinkExplanation, given: FigureGiven): string {
  const line = `${speedWords(rateMbps)} at MTU ${packetBytes}`;
  switch (role) {
    case 'as-given':
      return `the line is full: ${line} gives no more`;
    case 'smaller-packet':
      return `a hop, most likely an end, passes only ${packetBytes} of the ${given.packetBytes ?? jumboPacketBytes} bytes`;
    case 'one-member':
      return `one flow uses one member of the aggregate, here ${line}`;
    case 'lower-rate':
      return `a link on the way runs at ${speedWords(rateMbps)}, with MTU ${packetBytes}`;
    case 'some-link':
      return `a full link of ${line}`;
    case 'higher-rate':
      return `the line runs at ${speedWords(rateMbps)}, faster than given, with MTU ${packetBytes}`;
    case 'larger-packet':
      return `packets of ${packetBytes} bytes pass, larger than given`;
  }
}

function linkNext(
  { role, rateMbps, packetBytes, stack }: LinkExplanation,
  given: FigureGiven,
): string {
  switch (role) {
    case 'as-given':
    case 'some-link':
      return packetBytes === standardPacketBytes && rateMbps >= 1_000
        ? `nothing to mend; ${gainWords(rateMbps, stack)}`
        : 'nothing to mend';
    case 'smaller-packet':
      return 'compare the MTU of both ends and of routers between: TCP settles on the smallest of these, while a small switch stalls transfers instead of slowing them';
    case 'one-member':
      return 'no fault: several flows use several members, one flow never more than one';
    case 'lower-rate':
      return `look for the link that runs at ${speedWords(rateMbps)} instead of ${speedWords(given.rateMbps ?? rateMbps)}; if none does, ask the route at both ends: the traffic may leave by another port`;
    case 'higher-rate':
      return 'compare the rate that was given with what both ends say';
    case 'larger-packet':
      return 'nothing to mend';
  }
}

function gainWords(rateMbps: number, stack: HeaderStack): string {
  const jumbo = goodputMbps(rateMbps, jumboPacketBytes, stack);
  const gain = jumbo / goodputMbps(rateMbps, standardPacketBytes, stack) - 1;
  return `MTU ${jumboPacketBytes} on every hop would give ${rounded(jumbo, 1)} Mb/s, ${rounded(gain * 100, 1)} % more, with 6 times fewer packets`;
}

function rangeWords({ packetBytesLeast: least, packetBytesMost: most }: LinkExplanation): string {
  return most === undefined ? `from ${least} bytes up` : `from ${least} to ${most} bytes`;
}

/** `IPv4, timestamps, 1 tag` */
export function stackWords({ ipVersion, timestamps, tags }: HeaderStack): string {
  const tagged = tags === 0 ? 'no tag' : tags === 1 ? '1 tag' : `${tags} tags`;
  return `IPv${ipVersion}, ${timestamps ? 'timestamps' : 'no timestamps'}, ${tagged}`;
}

const stacksShownMax = 3;

function alsoWords(stacks: readonly HeaderStack[]): string {
  const shown = stacks.slice(0, stacksShownMax).map(stackWords).join('; ');
  const left = stacks.length - stacksShownMax;
  return left > 0 ? `${shown}; and ${left} more` : shown;
}

function windowWords(window: WindowExplanation, given: FigureGiven): ExplanationWords {
  const { windowBytes, rttMs, rttGiven, expectedMbps, offShare } = window;
  const time = rounded(rttMs, 3);
  const sum = `${windowBytes} bytes x 8 / ${time} ms = ${rounded(expectedMbps, 1)} Mb/s`;
  if (!rttGiven) {
    return {
      title: `a TCP window without scaling, if the round trip is ${time} ms`,
      reckoning: [`${sum}: some round trip explains every figure`],
      next: 'measure the round trip and give it with --rtt',
    };
  }
  const { rateMbps } = given;
  const count =
    rateMbps === undefined ? undefined : connectionsToFill({ rateMbps, rttMs }, windowBytes);
  const several = count === undefined ? 'several connections' : `${count} connections`;
  return {
    title: 'a TCP window without scaling',
    reckoning: [`${sum}; ${offWords(offShare)}`],
    next: `compare with ${several} at once; if they fill the line, turn window scaling on and raise the buffers of both ends`,
  };
}

function busExplanationWords({ kind, buses, portMbps }: BusExplanation): ExplanationWords {
  const reckoning = buses.map((bus) => {
    const [least, most] = busRange(bus);
    return `${busWords(bus)} carries ${least} to ${most} Mb/s of data`;
  });
  return kind === 'usb-2'
    ? {
        title: 'the adapter is on a USB 2 port, hub or cable',
        reckoning: [`${reckoning[0]} (common practice)`],
        next: 'ask the system for the USB speed of the adapter (480 is USB 2) and move it to a faster port',
      }
    : {
        title: `the bus between adapter and computer is too narrow for a port of ${speedWords(portMbps)}`,
        reckoning,
        next: "compare the current speed and width of the adapter's bus link with the largest it can do; try another slot or port",
      };
}
