import { ethernetHeaderBytes, fcsBytes, vlanTagBytes } from './frame-size.ts';

/**
 * What an MTU may count beside the packet, with the word of the intent for it, where it has one. A
 * fit tries the sizes that these leave, and what passes names the accounting.
 */
export const mtuExtras = [
  { bytes: vlanTagBytes, words: 'a tag' },
  { bytes: ethernetHeaderBytes, words: 'the Ethernet header', word: 'header' },
  { bytes: ethernetHeaderBytes + fcsBytes, words: 'the header and the FCS', word: 'header-fcs' },
  {
    bytes: ethernetHeaderBytes + vlanTagBytes + fcsBytes,
    words: 'the header, a tag and the FCS',
    word: 'header-fcs-tag',
  },
] as const;
