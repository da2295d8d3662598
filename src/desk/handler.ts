/** What takes a change that a screen sends. */
import { z } from "zod";
import { heard } from "../words/heard.ts";
import type { ChangeOutcome } from "./outcome.ts";
import type { CollectionReader } from "./reader.ts";

/** A name, a role, an address or a hash as a screen sends it: a line of which the length is bounded. */
export const sentLine = z.string().max(200);

/** Does what was sent, whatever it is, and says what became of it. */
export type Handler = (sent: unknown, reader: CollectionReader) => Promise<ChangeOutcome>;

/** What is answered to something that is no change of this address. */
export const notUnderstood = (): ChangeOutcome => ({ refused: heard("deskDoor").notUnderstood });

/** A handler that is only given what has the shape that its address takes. */
export function reading<T>(
  shape: z.ZodType<T>,
  act: (sent: T, reader: CollectionReader) => Promise<ChangeOutcome>,
): Handler {
  return async (sent, reader) => {
    const read = shape.safeParse(sent);
    return read.success ? act(read.data, reader) : notUnderstood();
  };
}
