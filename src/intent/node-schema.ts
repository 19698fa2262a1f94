import { z } from 'zod';
import { busFromText } from '../ethernet/host-bus-text.ts';
import { parseAddress } from './address.ts';
import { stationsBehindMax } from './limits.ts';
import {
  checkedText,
  listOf,
  nameText,
  oneOrMore,
  patternText,
  plainText,
  together,
  wholeNumber,
} from './schema-parts.ts';
import { mtuAccountings, mtuChanges, unreadKinds } from './types.ts';

const accounting = z
  .enum(mtuAccountings)
  .describe('What the number that the node calls MTU counts');

const mtuCounts = z
  .union([
    accounting,
    z.strictObject({
      port: accounting.exactOptional(),
      vlan: accounting.exactOptional(),
      bridge: accounting.exactOptional(),
      bond: accounting.exactOptional(),
    }),
  ])
  .describe('What MTU counts on this node: one word for all ports, or one per kind of port');

const macText = patternText(
  'MAC address that finds the port',
  /^[0-9A-Fa-f]{2}(?:([:-])[0-9A-Fa-f]{2}(?:\1[0-9A-Fa-f]{2}){4})$/,
  "must be a MAC address; write six pairs such as '02:00:5e:00:00:05', in quotes",
);

const version = (about: string) =>
  patternText(
    about,
    /^\d{1,9}(?:\.\d{1,9}){0,7}$/,
    "must be a version; write numbers with dots, in quotes, such as '14.5'",
  ).exactOptional();

const portSchema = z
  .union([
    plainText("The node's own name of the port"),
    z.strictObject({
      name: plainText("The node's own name of the port").exactOptional(),
      mac: macText.exactOptional(),
      driverAtLeast: version('Oldest version of its driver that is accepted'),
      behind: wholeNumber(
        'Stations that may stand behind this port, such as virtual machines of a host',
        1,
        stationsBehindMax,
      ).exactOptional(),
      bus: checkedText(
        'What joins its adapter to the computer, for a judgement before it is bought: PCIe 8.0 GT/s x4, USB 5000 Mb/s, Thunderbolt 40 Gb/s',
        (text) => busFromText(text) !== undefined,
        "must be a bus; write it such as 'PCIe 8.0 GT/s x4', 'USB 5000 Mb/s' or 'Thunderbolt 40 Gb/s'",
      ).exactOptional(),
    }),
  ])
  .describe(
    "A port under a name of the owner's: its own name, or name, MAC address and what may stand behind it",
  );

const identitySchema = z
  .strictObject({
    hostKey: patternText(
      'Fingerprint of the SSH host key, as ssh-keygen -l prints it',
      /^SHA256:[A-Za-z0-9+/]{43}$/,
      "must be a fingerprint; write SHA256: and 43 characters, as 'ssh-keygen -l' prints it",
    ).exactOptional(),
    engineId: patternText(
      'SNMP engine identifier (RFC 3411), 5 to 32 octets in hexadecimal',
      /^(?:0x)?(?:[0-9A-Fa-f]{2}[: ]?){4,31}[0-9A-Fa-f]{2}$/,
      'must be an SNMP engine identifier; write 5 to 32 octets in hexadecimal, in quotes',
    ).exactOptional(),
    systemName: plainText("The node's own name, uname -n or sysName").exactOptional(),
    sysObjectId: patternText(
      'SNMPv2-MIB sysObjectID',
      /^\.?[0-2](?:\.\d{1,10}){1,127}$/,
      'must be an object identifier; write numbers with dots',
    ).exactOptional(),
  })
  .describe('Who answers at the address; another machine there is a finding');

/** One entry of `nodes:`. */
export const nodeSchema = z
  .strictObject({
    at: checkedText(
      'Host name or IP address, with a port where it is not the usual one',
      (text) => parseAddress(text) !== undefined,
      'must be a host name or an IP address; write host, host:port or [IPv6]:port',
    ).exactOptional(),
    access: oneOrMore(
      nameText,
      'Names under access, in the order to try; ssh by default',
    ).exactOptional(),
    reach: nameText
      .describe(
        'Word for where it can be reached from; a collector that is given it reads the node',
      )
      .exactOptional(),
    osAtLeast: version('Oldest version of its operating system that is accepted'),
    role: z
      .enum(['host', 'switch'])
      .describe('switch forwards frames in layer 2; told from the access by default')
      .exactOptional(),
    unread: z
      .enum(unreadKinds)
      .describe('What it is, for a node that nobody logs in to')
      .exactOptional(),
    frame: wholeNumber(
      'Largest frame that an unread node passes, header to FCS, in bytes',
      1518,
      65_557,
    ).exactOptional(),
    sleeps: z
      .boolean()
      .describe('Not reachable at times: no finding when it does not answer')
      .exactOptional(),
    mayBeAbsent: z.boolean().describe('May be taken away altogether').exactOptional(),
    routes: z.boolean().describe('Joins segments in layer 3').exactOptional(),
    mtuCounts: mtuCounts.exactOptional(),
    mtuChange: z
      .enum(mtuChanges)
      .describe(
        'What a new MTU does to it: nothing, links that go down for a moment, or a restart before it counts',
      )
      .exactOptional(),
    believe: z
      .array(z.literal('mtu'))
      .min(1)
      .max(1)
      .describe('Facts that the owner vouches for where they would be doubtful')
      .exactOptional(),
    identity: identitySchema.exactOptional(),
    ports: z
      .record(plainText("The owner's name of a port, used in links", 64), portSchema)
      .describe("Ports under names of the owner's")
      .exactOptional(),
  })
  .check(({ value, issues }) => {
    if (value.unread !== undefined && value.access !== undefined) {
      together(
        issues,
        ['access'],
        'is set on an unread node; remove access, or remove unread to read it',
      );
    }
    if (value.frame !== undefined && value.unread === undefined) {
      together(
        issues,
        ['frame'],
        'is only for unread nodes; remove it, or declare the mtu of the segment',
      );
    }
    if (value.at === undefined && value.unread === undefined && !onlyLocal(value.access)) {
      together(issues, ['at'], "is missing; add 'at: host name or address', or 'unread: kind'");
    }
  })
  .describe('A host or switch that has ports');

function onlyLocal(access: string | readonly string[] | undefined): boolean {
  return access !== undefined && listOf(access).every((name) => name === 'local');
}

/** A node as it is written. */
export type NodeText = z.output<typeof nodeSchema>;
