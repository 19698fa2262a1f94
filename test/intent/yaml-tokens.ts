/** What YAML 1.2 reads as more than a letter (its indicators, chapter 5.3), and ends of lines. */
export const yamlTokens: readonly string[] = [
  ...['{', '}', '[', ']', ': ', ', ', '- ', '\n', '\n  ', '? ', '&a ', '*a', '!t '],
  ...['"', "'", '|\n', '#', '%'],
];
