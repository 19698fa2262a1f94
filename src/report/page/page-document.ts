import { createHash } from 'node:crypto';
import { type Markup, markup } from './markup.ts';

/** What a page consists of. */
export interface PageParts {
  readonly title: string;
  /** Style sheets in their order. */
  readonly styles: readonly string[];
  /** Text of the only script; nothing of the network is ever in it. */
  readonly script: string;
  /** All that stands in `body`, the data of the script among it. */
  readonly body: Markup;
}

/**
 * A whole page in one file. Its policy (Content Security Policy Level 3) lets in nothing but the
 * style and the script of the file itself, each by its digest, so that the page asks nobody for
 * anything and text of a device can neither run nor style.
 */
export function pageDocument({ title, styles, script, body }: PageParts): string {
  const style = styles.join('\n');
  const policy = [
    "default-src 'none'",
    `style-src '${digest(style)}'`,
    `script-src '${digest(script)}'`,
    "base-uri 'none'",
    "form-action 'none'",
  ].join('; ');
  const head = markup`<meta charset="utf-8">
<meta http-equiv="Content-Security-Policy" content="${policy}">
<meta name="viewport" content="width=device-width, initial-scale=1">
<meta name="referrer" content="no-referrer">
<title>${title}</title>`;
  return `<!doctype html>
<html lang="en">
<head>
${head.text}
<style>${style}</style>
</head>
<body>
${body.text}
<script>${script}</script>
</body>
</html>
`;
}

/** As a source of a policy has it: of the bytes between the tags. */
function digest(text: string): string {
  return `sha256-${createHash('sha256').update(text).digest('base64')}`;
}
