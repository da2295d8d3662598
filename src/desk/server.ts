/** The desk's server: on this machine only, for whoever has the key in the address that it was opened with. */
import { randomBytes } from "node:crypto";
import { createServer, type IncomingMessage, type ServerResponse } from "node:http";
import type { AddressInfo } from "node:net";
import { join } from "node:path";
import sharp from "sharp";
import { fileOnDemand } from "../build/on-demand.ts";
import { openPageMaker } from "../build/build.ts";
import type { PageMaker } from "../build/render/page-maker.ts";
import { shelfIn } from "../build/shelf.ts";
import { DESK_HEADERS } from "../build/policy.ts";
import { contentTypeOf } from "../build/serve.ts";
import { keepOn } from "../domain/words/keep.ts";
import { sayRefusal } from "../findings/cannot-run.ts";
import { AuthorFault } from "../site/author-fault.ts";
import { type Assets, bundleAssets } from "../site/assets.ts";
import { MOST_PIXELS } from "../site/images.ts";
import { heard } from "../words/heard.ts";
import { admit, bodyOf, type Admitted, type Door, type Refused } from "./guard.ts";
import type { Html } from "./html.ts";
import { takeChange } from "./changes/changes.ts";
import { CollectionReader, LaterThanRead, type Moment } from "./reader.ts";
import { startSaving } from "./disk/save.ts";
import { photoAt, SCREENS } from "./screens-at.ts";
import { sayLost, startScreen } from "./screens/start.ts";
import { wordsFor } from "../words/words.ts";

/** An open desk, until `close()`. */
export interface Desk {
  /** With its key: `http://127.0.0.1:4330/k3y/` */
  readonly address: string;
  readonly close: () => Promise<void>;
}

/** What answers have in common. */
interface Room {
  readonly reader: CollectionReader;
  readonly maker: PageMaker;
  readonly assets: Promise<Assets>;
  /** Styles of the pages shown so far, by address: a page asks for its own when a newer reading may be there. */
  readonly pageStyles: Map<string, string>;
  /** Pages of the site that are being made. */
  readonly underWay: Set<Promise<unknown>>;
}

interface Answer {
  readonly status?: number;
  readonly type: string;
  readonly body: string | Uint8Array;
}

/** What the desk takes at once, in bytes: a document with a photo from a camera on each of a hundred pages. */
const MOST = 200_000_000;
const PORTS_TRIED = 20;

/**
 * Opens the desk over a collection at `port` or the next free one (0: any). Throws `NoCollection` where there is none,
 * and says it if the next twenty ports are busy too.
 */
export async function openDesk(folder: string, port = 4330): Promise<Desk> {
  // A save proves again only what it has changed.
  keepOn(shelfIn());
  const reader = new CollectionReader(folder);
  await reader.open();
  reader.trouble = startSaving(folder);
  const root = (await reader.now()).site.root;
  const room: Room = {
    reader,
    maker: openPageMaker(),
    assets: bundleAssets(root, ["src/desk/styles/desk.css", "src/desk/browser/desk.entry.ts"]),
    pageStyles: new Map(),
    underWay: new Set(),
  };
  const key = randomBytes(18).toString("base64url");
  const door = { key, host: "" };
  const server = createServer((request, response) => void answer(room, door, request, response));
  const bound = await listen(server, port);
  door.host = `127.0.0.1:${bound}`;
  return {
    address: `http://${door.host}/${key}/`,
    close: async () => {
      reader.close();
      server.closeAllConnections();
      await new Promise((done) => server.close(done));
      await room.maker.close();
    },
  };
}

async function listen(server: ReturnType<typeof createServer>, port: number): Promise<number> {
  for (let at = port; at < port + PORTS_TRIED; at += 1) {
    const bound = await new Promise<number | undefined>((done, fail) => {
      const refused = (error: NodeJS.ErrnoException) => (error.code === "EADDRINUSE" ? done(undefined) : fail(error));
      server.once("error", refused);
      server.listen(at, "127.0.0.1", () => {
        server.off("error", refused);
        done((server.address() as AddressInfo).port);
      });
    });
    if (bound !== undefined) return bound;
  }
  throw new Error(heard("deskDoor").portsBusy({ first: String(port), last: String(port + PORTS_TRIED - 1) }));
}

async function answer(room: Room, door: Door, request: IncomingMessage, response: ServerResponse): Promise<void> {
  const asked = admit(request, door);
  try {
    if ("status" in asked) return send(response, asked, request.method === "HEAD");
    if (asked.method === "POST") {
      const sent = await bodyOf(request, MOST);
      return send(response, !Buffer.isBuffer(sent) ? sent : await taken(room, asked, sent), false);
    }
    if (asked.address === "events") return await tell(room, request, response);
    send(response, await shown(room, asked), asked.method === "HEAD");
  } catch (error) {
    send(response, { status: 500, text: sayFault(error) }, false);
  }
}

/** Says what went wrong, for the person at the desk. */
function sayFault(error: unknown): string {
  if (error instanceof AuthorFault) return `${error.finding.message}. ${error.finding.fix}.`;
  return (
    sayRefusal(error) ?? heard("deskDoor").notDone({ why: error instanceof Error ? error.message : String(error) })
  );
}

/** Ends the request with a page, a file or a refusal. */
function send(response: ServerResponse, what: Answer | Refused, headOnly: boolean): void {
  if (response.headersSent) return void response.destroy();
  const { status = 200, type, body } = "text" in what ? { ...what, type: "x.txt", body: `${what.text}\n` } : what;
  const bytes = typeof body === "string" ? Buffer.from(body) : body;
  response.writeHead(status, {
    ...DESK_HEADERS,
    "Content-Type": contentTypeOf(type),
    "Content-Length": bytes.length,
    ...(status === 405 ? { Allow: "GET, HEAD, POST" } : {}),
    // What was not read of a request that is refused is not waited for.
    ...(status >= 400 ? { Connection: "close" } : {}),
  });
  response.end(headOnly ? undefined : bytes);
}

const page = ({ html }: Html, status = 200): Answer => ({ status, type: "x.html", body: html });

async function shown(room: Room, { address }: Admitted): Promise<Answer> {
  const { reader, assets } = room;
  if (address.startsWith("site/")) {
    const file = siteFile(room, address.slice("site/".length));
    if (address.endsWith("/")) room.underWay.add(file);
    try {
      return (await file) ?? page(sayLost(await reader.now(), await assets), 404);
    } finally {
      room.underWay.delete(file);
    }
  }
  const styled = await assets,
    asset = styled.files.get(address);
  if (asset) return { type: address, body: asset };
  const [where = "", ...rest] = address.split("/");
  if (where === "photo") return (await picture(room, rest)) ?? page(sayLost(await reader.now(), styled), 404);
  for (let tries = 1; ; tries += 1)
    try {
      const moment = await newestJudged(room);
      if (address === "") return page(startScreen(moment, styled, reader));
      const asked = { reader, moment, assets: styled },
        screen = Object.hasOwn(SCREENS, where) ? await SCREENS[where]!(asked, rest) : undefined;
      return screen ? page(screen) : page(sayLost(moment, styled), 404);
    } catch (error) {
      if (!(error instanceof LaterThanRead)) throw error;
      const { files } = await reader.refresh();
      if (tries === MOST_TRIES) throw new Error(wordsFor(files.service).deskSaid.neverTheSame({ file: error.file }));
    }
}

const MOST_TRIES = 20;

/**
 * The newest reading with all that is found in it. That takes long: pages that are asked for meanwhile, such as the one
 * beside the screen, come first; and a reading that has come since is judged in its place.
 */
async function newestJudged({ reader, underWay }: Room): Promise<Moment> {
  for (;;) {
    const moment = await reader.now();
    await moment.judged(() => (underWay.size > 0 ? Promise.allSettled(underWay) : undefined));
    if ((await reader.now()) === moment) return moment;
  }
}

/** A file of the site as the collection is now; nothing where it has none there. */
async function siteFile({ reader, maker, pageStyles }: Room, address: string): Promise<Answer | undefined> {
  const { site } = await reader.now(),
    file = await fileOnDemand(site, maker, address);
  for (const [name, style] of site.pageStyles) pageStyles.set(name, style);
  const style = file ? undefined : pageStyles.get(address);
  return file
    ? { type: file.name, body: file.bytes }
    : style === undefined
      ? undefined
      : { type: address, body: style };
}

/** Pixels: of a photo in a list, and where marks are put on it. */
const SMALL_WIDTH = 320;
const LARGE_WIDTH = 1600;

/** A photo's picture: of the collection's own, never of another file. */
async function picture({ reader }: Room, [platform, id, size]: readonly string[]): Promise<Answer | undefined> {
  const { file } = photoAt(await reader.now(), platform, id)?.photo ?? {},
    width = size === "large" ? LARGE_WIDTH : SMALL_WIDTH;
  return file === undefined ? undefined : { type: "x.webp", body: await rendering(join(reader.folder, file), width) };
}

/** A photo at most as wide as that, upright and without metadata (WebP). Throws for a file that is none. */
async function rendering(file: string, width: number): Promise<Uint8Array> {
  const image = sharp(file, { limitInputPixels: MOST_PIXELS, failOn: "error" });
  return image.autoOrient().resize({ width, withoutEnlargement: true }).webp({ quality: 80 }).toBuffer();
}

/** Does what a screen sends, and says what became of it. */
async function taken({ reader }: Room, { address }: Admitted, sent: Buffer): Promise<Answer | Refused> {
  const outcome = await takeChange(reader, address, sent);
  if (!outcome) return { status: 404, text: heard("deskDoor").notTaken({ address }) };
  const status = "saved" in outcome ? 200 : "changed" in outcome ? 409 : 422;
  return { status, type: "x.json", body: JSON.stringify(outcome) };
}

/** Server-sent events: the number of the newest reading, then that of each newer one as it comes. */
async function tell({ reader }: Room, request: IncomingMessage, response: ServerResponse): Promise<void> {
  const { number: newest } = await reader.now();
  response.writeHead(200, { ...DESK_HEADERS, "Content-Type": "text/event-stream" });
  response.write(`data: ${newest}\n\n`);
  const end = reader.listen((number) => void response.write(`data: ${number}\n\n`));
  request.on("close", end);
}
