/** A small server for a built site, for looking at it on this machine. */
import { createReadStream } from "node:fs";
import { stat } from "node:fs/promises";
import { createServer, type IncomingMessage, type Server, type ServerResponse } from "node:http";
import { extname, join, resolve, sep } from "node:path";
import { HEADERS } from "./policy.ts";

/** A running server, until `server.close()`. */
export interface Served {
  /** `http://localhost:4321/` */
  readonly address: string;
  readonly server: Server;
}

const TYPES: Readonly<Record<string, string>> = {
  ".html": "text/html; charset=utf-8",
  ".css": "text/css; charset=utf-8",
  ".js": "text/javascript; charset=utf-8",
  ".json": "application/json; charset=utf-8",
  ".webmanifest": "application/manifest+json",
  ".svg": "image/svg+xml",
  ".webp": "image/webp",
  ".jpg": "image/jpeg",
  ".png": "image/png",
  ".woff2": "font/woff2",
  ".pdf": "application/pdf",
  ".ics": "text/calendar; charset=utf-8",
  ".atom": "application/atom+xml; charset=utf-8",
  ".txt": "text/plain; charset=utf-8",
  ".csv": "text/csv; charset=utf-8",
  ".wasm": "application/wasm",
};
/** The kind of a file's content by its ending, as a header says it. */
export function contentTypeOf(name: string): string {
  return TYPES[extname(name).toLowerCase()] ?? "application/octet-stream";
}

const PORTS_TRIED = 20;

/**
 * Serves a folder on this machine only, at `port` or the next free one (0: any); throws if the next twenty are busy
 * too.
 */
export async function serveSite(folder: string, port = 4321): Promise<Served> {
  const root = resolve(folder);
  for (let at = port; at < port + PORTS_TRIED; at += 1) {
    const server = createServer((request, response) => void answer(root, request, response));
    const taken = await new Promise<number | undefined>((done, fail) => {
      server.once("error", (error: NodeJS.ErrnoException) =>
        error.code === "EADDRINUSE" ? done(undefined) : fail(error),
      );
      server.listen(at, "localhost", () => done((server.address() as { port: number }).port));
    });
    if (taken !== undefined) return { address: `http://localhost:${taken}/`, server };
  }
  throw new Error(
    `Ports ${port} to ${port + PORTS_TRIED - 1} are all busy: close a program that uses one, or name another port`,
  );
}

async function answer(root: string, request: IncomingMessage, response: ServerResponse): Promise<void> {
  if (request.method !== "GET" && request.method !== "HEAD")
    return end(response, 405, "Only GET and HEAD are answered.");
  const path = pathOf(request.url ?? "/");
  const file = path === undefined ? undefined : join(root, path);
  if (file === undefined || (file !== root && !file.startsWith(root + sep)))
    return end(response, 400, "No such address.");
  const found = await find(file);
  if (found === "folder") {
    const [, query = ""] = /(\?.*)?$/.exec(request.url ?? "") ?? [];
    response.writeHead(301, { ...HEADERS, Location: `${encodeURI(path!).replace(/^\/+/, "/")}/${query}` });
    return void response.end();
  }
  const target = found ?? join(root, "404.html");
  const exists = found !== undefined || (await isFile(target));
  if (!exists) return end(response, 404, "There is no such page.");
  const { size } = await stat(target);
  response.writeHead(found ? 200 : 404, {
    ...HEADERS,
    "Content-Type": contentTypeOf(target),
    "Content-Length": size,
  });
  if (request.method === "HEAD") return void response.end();
  createReadStream(target)
    .on("error", () => response.destroy())
    .pipe(response);
}

/** The decoded path; `undefined` if it can't be one (bad escapes, NUL, a step up or a hidden file). */
function pathOf(url: string): string | undefined {
  try {
    const path = decodeURIComponent(url.split(/[?#]/, 1)[0]!);
    return path.startsWith("/") && !/\0|\\|(^|\/)\.[^/]*/.test(path) ? path : undefined;
  } catch {
    return undefined;
  }
}

/** The file to send: itself, or a folder's index; `folder` for a folder without its closing `/`. */
async function find(file: string): Promise<string | undefined> {
  if (file.endsWith(sep)) return (await isFile(join(file, "index.html"))) ? join(file, "index.html") : undefined;
  if (await isFile(file)) return file;
  return (await isFile(join(file, "index.html"))) ? "folder" : undefined;
}

async function isFile(file: string): Promise<boolean> {
  return stat(file).then(
    (found) => found.isFile(),
    () => false,
  );
}

function end(response: ServerResponse, status: number, text: string): void {
  response.writeHead(status, { ...HEADERS, "Content-Type": "text/plain; charset=utf-8" });
  response.end(`${text}\n`);
}
