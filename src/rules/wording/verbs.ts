/** English verbs of handling equipment, for the rules that look for actions in an instruction. */

const HANDLING = `
  add adjust align attach bring buckle carry clamp clean clip close collect connect couple cover cut
  deflate detach disconnect drain draw drop dry empty engage
  fasten feed fetch fill fit fix flip fold guide hang hook inflate insert install join
  latch lay lift link load lock loosen lower mount move open
  pack park pass pick place plug position press prime pull push put
  raise release remove replace return rinse rotate route screw seat secure set shut slacken
  slide snap spread squeeze stow strap swing switch take tap tape thread throw tie tighten tilt transfer turn twist
  unbuckle unclamp unclip uncouple undo
  unfasten unfold unhook unlatch unload unlock unplug unscrew unstrap unwind wash wind wipe wrap zip
`;

/**
 * Verbs of handling in the form of an order: `lift`, `lock`, `push`. Verbs of holding, looking and speaking are not
 * among them.
 */
const handlingVerbs: readonly string[] = HANDLING.trim().split(/\s+/);

/** The same as the inside of a regular expression. */
export const HANDLING_VERB = `(?:${handlingVerbs.join("|")})`;
