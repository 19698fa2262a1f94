/**
 * What is wrong with a simulated agent, one thing at a time. Most are seen in the field
 * (common practice); each name says what the agent does.
 */
export type Vice =
  /** Answers nothing at all. */
  | 'hangs'
  /** Loses every third datagram that it receives. */
  | 'drops-every-third'
  /** Says tooBig to whatever it is asked. */
  | 'too-big-always'
  /** Says tooBig to every GETNEXT and GETBULK. */
  | 'too-big-tables'
  /** Answers GETBULK with genErr. */
  | 'refuses-bulk'
  /** Answers GETBULK with nothing. */
  | 'ignores-bulk'
  /** In the column ifMtu, always the first row comes next. */
  | 'loops'
  /** In the column ifMtu, the first row comes after the third. */
  | 'goes-backwards'
  /** In every column, after the last row comes one more, for ever. */
  | 'never-ends'
  /** Its replies to GETNEXT and GETBULK hold no values. */
  | 'empty-replies'
  /** Answers each request with its reply and then a flood of copies of it. */
  | 'floods'
  /** Sends the first half of each reply. */
  | 'cuts-replies'
  /** Sends each reply after the copy of the one before. */
  | 'out-of-order'
  /** The length at the head of each reply is less than what follows. */
  | 'lies-about-length'
  /** In the tables of LLDP and of stations, always the first row of a column comes next. */
  | 'loops-in-topics'
  /** Answers each request only after `slowReplyMs`. */
  | 'answers-slowly'
  /** Fails with genErr at any request that holds ifAlias. */
  | 'fails-at-one-column'
  /** Its answers to an authenticated user are not signed. */
  | 'unsigned'
  /** Reports every authenticated request as outside its time window. */
  | 'clock-lost'
  /** Restarts once: the fourth authenticated request is outside its time window. */
  | 'restarts-once'
  /** Says 1500 for the MTU of every port. */
  | 'mtu-1500-everywhere'
  /** Computes ifSpeed in 32 bits and has no ifHighSpeed. */
  | 'speed-wrapped'
  | 'no-ifxtable'
  | 'no-etherlike'
  /** Says tooBig when asked for more values than this in one request. */
  | { readonly tooBigAbove: number }
  /** Says nothing when asked for more values than this in one request. */
  | { readonly silentAbove: number }
  /** Falls silent for good after this many requests. */
  | { readonly silentAfter: number }
  /** Does this with one request and its repeats, the first request being 0, and is well otherwise. */
  | { readonly wrongAt: number; readonly how: WrongReply };

/**
 * What an agent does with one request: refuses it with genErr, is gone from then on, says nothing,
 * sends bytes that are no SNMP, half of the reply, or values of other types than the objects have.
 */
export type WrongReply = 'refused' | 'gone' | 'silent' | 'garbage' | 'cut' | 'wrong-type';

/** Delay of an agent that answers slowly, in milliseconds. */
export const slowReplyMs = 200;

/** Copies of a reply that a flood has. */
export const floodCopies = 200;
