/** The site of a collection that a test has written, built by the process that builds for all files. */
import { request } from "node:http";

/** What is to be built. */
export interface WantedSite {
  readonly collectionFolder: string;
  readonly outFolder: string;
  /** The day of which the site says what is in force, `YYYY-MM-DD`; that of the tests (`RERIG_TODAY`) if left out. */
  readonly on?: string | undefined;
  /** Whether it is checked first, as `rerig build` does: errors then refuse it. */
  readonly checked?: boolean;
}

/** Builds a site; throws with what failed. */
export async function buildForTest(wanted: WantedSite): Promise<void> {
  const port = process.env["RERIG_BUILDER"];
  if (!port) throw new Error("tests/builder/start.ts starts the builder, and vitest.config.ts names it");
  // By node:http, which waits as long as a build takes; fetch gives up after five minutes.
  const { status, text } = await new Promise<{ status: number; text: string }>((done, fail) => {
    const asked = request({ host: "127.0.0.1", port, method: "POST" }, (response) => {
      let text = "";
      response.on("data", (piece: Buffer) => (text += piece.toString()));
      response.on("end", () => done({ status: response.statusCode!, text }));
    });
    asked.on("error", fail);
    asked.end(JSON.stringify(wanted));
  });
  if (status !== 200) throw new Error(text);
}
