/**
 * What is no character of XML 1.0 (production 2, Char): most C0 controls, lone surrogates, U+FFFE
 * and U+FFFF. No reference may stand for them either, so they are dropped.
 */
const illegal = /[^\t\n\r\u0020-\ud7ff\ue000-\ufffd\u{10000}-\u{10ffff}]/gu;

const references: Readonly<Record<string, string>> = {
  '&': '&amp;',
  '<': '&lt;',
  '>': '&gt;',
  '"': '&quot;',
  "'": '&apos;',
  '\t': '&#9;',
  '\n': '&#10;',
  '\r': '&#13;',
};

/** Text as content of an element: `]]>` cannot end anything, since every `>` is a reference. */
export function xmlText(text: string): string {
  return text.replace(illegal, '').replace(/[&<>\r]/g, (found) => references[found] ?? found);
}

/** Text as a value of an attribute in double quotes; blanks are kept as they are. */
export function xmlAttribute(text: string): string {
  return text.replace(illegal, '').replace(/[&<>"'\t\n\r]/g, (found) => references[found] ?? found);
}

/** An element in one line: attributes in the order given; no content is an empty element. */
export function xmlElement(
  name: string,
  attributes: Readonly<Record<string, string | number>>,
  content = '',
): string {
  const start = xmlStart(name, attributes);
  return content === '' ? start.replace(/>$/, '/>') : `${start}${content}</${name}>`;
}

/** The tag that begins an element, attributes in the order given. */
export function xmlStart(
  name: string,
  attributes: Readonly<Record<string, string | number>>,
): string {
  const given = Object.entries(attributes).map(
    ([key, value]) => ` ${key}="${xmlAttribute(String(value))}"`,
  );
  return `<${name}${given.join('')}>`;
}
