/** What a page of the site may load and run: its own files, nothing from elsewhere, nothing written into the page. */

/** Content-Security-Policy (W3C CSP level 3). The search index is WebAssembly, hence `wasm-unsafe-eval`. */
const CONTENT_POLICY = [
  "default-src 'none'",
  "script-src 'self' 'wasm-unsafe-eval'",
  "style-src 'self'",
  "img-src 'self'",
  "font-src 'self'",
  "connect-src 'self'",
  "worker-src 'self'",
  "manifest-src 'self'",
  "base-uri 'none'",
  "form-action 'self'",
  "frame-ancestors 'none'",
].join("; ");

/**
 * The policy as it stands in each page, for hosts that send no header and for copies in a folder. Framing can only be
 * forbidden by a header.
 */
export const PAGE_POLICY = CONTENT_POLICY.replace("; frame-ancestors 'none'", "");

/** Headers of every answer of the server that `npm start` runs; a host of the site does well to send the same. */
export const HEADERS: Readonly<Record<string, string>> = {
  "Content-Security-Policy": CONTENT_POLICY,
  "X-Content-Type-Options": "nosniff",
  "Referrer-Policy": "no-referrer",
  "Permissions-Policy": "camera=(), geolocation=(), microphone=()",
  "Cache-Control": "no-cache",
};

/**
 * Headers of every answer of the desk (`rerig write`): the site's policy, but that its screens may show pages of their
 * own origin in a frame; no other origin may frame, embed or keep anything of it.
 */
export const DESK_HEADERS: Readonly<Record<string, string>> = {
  ...HEADERS,
  "Content-Security-Policy": CONTENT_POLICY.replace(
    "frame-ancestors 'none'",
    "frame-ancestors 'self'; frame-src 'self'",
  ),
  "Cross-Origin-Resource-Policy": "same-origin",
  "Cross-Origin-Opener-Policy": "same-origin",
  "Cache-Control": "no-store",
};
