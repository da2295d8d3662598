/** A site whose photos are grey, for tests that print its pages and look at words and places alone. */
import { readFile } from "node:fs/promises";
import type { RequestListener } from "node:http";
import { join } from "node:path";
import sharp from "sharp";
import { serveSite, type Served } from "../../../src/build/serve.ts";

/** A grey picture (JPEG) as wide and high as the one in a file, in pixels. */
async function greyLike(file: string): Promise<Buffer> {
  const { width, height } = await sharp(await readFile(file)).metadata();
  return sharp({ create: { width, height, channels: 3, background: "#999" } })
    .jpeg()
    .toBuffer();
}

/**
 * Serves a folder as `serveSite` does, but each photo as a grey one of its size: the page is laid out as with the real
 * ones. To unpack these and to pack them into a PDF takes the browser more than half of its time for one.
 */
export async function servePlain(folder: string): Promise<Served> {
  const served = await serveSite(folder, 0),
    [answer] = served.server.listeners("request") as RequestListener[],
    known = new Map<string, Promise<Buffer>>();
  served.server.removeAllListeners("request").on("request", (request, response) => {
    const [photo] = /\/photos\/[\w.-]+\.(?:jpg|webp)/.exec(request.url ?? "") ?? [];
    if (photo === undefined) return answer!(request, response);
    const grey = known.get(photo) ?? greyLike(join(folder, photo.slice(photo.lastIndexOf("/photos/"))));
    known.set(photo, grey);
    void grey.then(
      (bytes) => response.writeHead(200, { "Content-Type": "image/jpeg" }).end(bytes),
      () => answer!(request, response),
    );
  });
  return served;
}
