/** In which order the format names the fields of a file, so that a new one stands where authors look for it. */
import {
  amendmentHead,
  configurationHead,
  equipmentFile,
  optionHead,
  photoFile,
  platformFile,
  procedureHead,
  readingHead,
  serviceFile,
} from "../../schema/files.ts";

const SHAPES = [
  procedureHead,
  configurationHead,
  optionHead,
  amendmentHead,
  readingHead,
  photoFile,
  serviceFile,
  platformFile,
  equipmentFile.valueType,
].map(({ shape }) => Object.keys(shape));

/** The names of all fields beside which some stand, in their order; nothing where no file has all of those. */
export function fieldOrder(names: readonly string[]): readonly string[] | undefined {
  const shape = SHAPES.find((keys) => names.every((name) => keys.includes(name)));
  // The list of changes grows: it is the last thing of a head.
  return shape && [...shape.filter((key) => key !== "changes"), ...(shape.includes("changes") ? ["changes"] : [])];
}
