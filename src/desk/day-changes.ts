/** Going back to what a file said earlier on this day. */
import { z } from "zod";
import { type Handler, reading } from "./handler.ts";
import { historyOf, saveFiles, textOfState } from "./save.ts";

const name = z.string().max(200);

/** By the address to which it is sent. */
export const DAY_HANDLERS: Readonly<Record<"restore", Handler>> = {
  restore: reading(z.strictObject({ file: name, basedOn: name, hash: name }), async (sent, reader) => {
    const { file, basedOn, hash } = sent,
      isOfFile = historyOf(reader.folder, file).some((state) => state.hash === hash),
      text = isOfFile ? textOfState(reader.folder, hash) : undefined;
    if (text === undefined) return { refused: "What the file said then is kept no longer: nothing was changed" };
    const result = saveFiles(reader.folder, [{ path: file, basedOn, text }]);
    if ("refused" in result) return result;
    if ("changed" in result)
      return { refused: "The file was changed elsewhere meanwhile: load the page again and look at what it says now" };
    const { number } = await reader.refresh();
    return { saved: true, hash: result.hashes[file] ?? null, number };
  }),
};
