/** A site of which a browser keeps what it has read, for tests that open many of its pages. */
import { serveSite, type Served } from "../../../src/build/serve.ts";

/**
 * Serves a folder that does not change: style sheets, scripts and pictures are read, and pictures decoded, once for all
 * pages and not once for each. What the server itself says of keeping (`HEADERS`) is tested elsewhere.
 */
export async function serveKept(folder: string): Promise<Served> {
  const served = await serveSite(folder, 0);
  served.server.prependListener("request", (_request, response) => {
    const write = response.writeHead.bind(response) as (status: number, headers: object) => typeof response;
    response.writeHead = (status: number, headers: unknown) =>
      write(status, { ...(headers as object), "Cache-Control": "max-age=3600" });
  });
  return served;
}
