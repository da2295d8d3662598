/** A server for a built site that tests can slow down, cut off and bring back at the same address. */
import { createServer, type Server } from "node:http";
import { readFile } from "node:fs/promises";
import { extname, join } from "node:path";
import { HEADERS } from "../../src/build/policy.ts";

const TYPES: Readonly<Record<string, string>> = {
  ".html": "text/html; charset=utf-8",
  ".css": "text/css",
  ".js": "text/javascript",
  ".json": "application/json",
  ".svg": "image/svg+xml",
  ".webp": "image/webp",
  ".jpg": "image/jpeg",
  ".woff2": "font/woff2",
  ".wasm": "application/wasm",
};

/** Serves a folder; `folder` may be exchanged while it runs. */
export class SiteServer {
  #server: Server | undefined;
  #port = 0;
  folder: string;
  /** Requests answered since the last `start`. */
  served = 0;
  /** Paths that were asked for, until somebody empties it. */
  readonly asked = new Set<string>();
  /** After so many answers every connection is cut and none is taken. */
  cutAfter = Infinity;
  /** Path of a file of which something else is sent than what is in the folder. */
  spoilt: string | undefined;

  constructor(folder: string) {
    this.folder = folder;
  }

  get address(): string {
    return `http://localhost:${this.#port}/`;
  }

  /** Takes connections, at the same port as before. */
  async start(): Promise<void> {
    this.served = 0;
    const server = createServer(async (request, response) => {
      if (this.served >= this.cutAfter) return void this.stop();
      this.served += 1;
      let path = decodeURIComponent(new URL(request.url ?? "/", this.address).pathname);
      this.asked.add(path);
      if (path.endsWith("/")) path += "index.html";
      try {
        const read = await readFile(join(this.folder, path));
        const content = path === this.spoilt ? Buffer.concat([read, Buffer.from("<!-- -->")]) : read;
        response
          .writeHead(200, { ...HEADERS, "content-type": TYPES[extname(path)] ?? "application/octet-stream" })
          .end(content);
      } catch {
        response
          .writeHead(404, { ...HEADERS, "content-type": "text/html; charset=utf-8" })
          .end(await readFile(join(this.folder, "404.html")).catch(() => "not here"));
      }
    });
    this.#server = server;
    await new Promise<void>((done) => server.listen(this.#port, "localhost", done));
    this.#port = (server.address() as { port: number }).port;
  }

  /** Cuts every connection. */
  async stop(): Promise<void> {
    const server = this.#server;
    this.#server = undefined;
    if (!server) return;
    server.closeAllConnections();
    await new Promise<void>((done) => server.close(() => done()));
  }
}
