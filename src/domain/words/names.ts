/** Names of things as they stand in running text, for whatever looks for them there. */

/** The words as they are met by a regular expression, letter by letter. */
export function escapePattern(words: string): string {
  return words.replace(/[.*+?^${}()|[\]\\]/g, "\\$&");
}

/**
 * The source of a pattern (flags `i` and `u`) that meets a name as words of their own, in one or in several, over any
 * white space: `Capsule pin` is met in `four capsule pins`, not in `capsule pinning` nor in `re-capsule pin`.
 */
export function nameInText(name: string): string {
  const words = name.trim().split(/\s+/).map(escapePattern);
  return `(?<![\\p{L}\\p{N}-])${words.join("\\s+")}(?:s|es)?(?![\\p{L}\\p{N}-])`;
}
