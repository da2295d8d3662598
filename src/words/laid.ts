/** Where the script of pages from the right leaves how texts are laid: only these pages load it. */
export const LAID = Symbol.for("rerig.laid");
