/** QR codes as drawings: a path of whole modules, with the quiet zone that readers need around it. */
import QRCode from "qrcode";

/** Modules of white on every side (ISO/IEC 18004, 5.3.8: four). */
export const QUIET_ZONE = 4;

/**
 * The symbol of a text as an SVG, as wide as its box. Level Q (a quarter of the symbol may be dirty) as long as that
 * takes no more than 33 modules, else M.
 */
export function drawQr(text: string, label: string): string {
  const high = QRCode.create(text, { errorCorrectionLevel: "Q" });
  const { modules } = high.modules.size <= 33 ? high : QRCode.create(text, { errorCorrectionLevel: "M" });
  const { size, data } = modules;
  const runs: string[] = [];
  for (let y = 0; y < size; y += 1)
    for (let x = 0; x < size; x += 1) {
      if (!data[y * size + x]) continue;
      const begin = x;
      while (x + 1 < size && data[y * size + x + 1]) x += 1;
      runs.push(`M${begin + QUIET_ZONE} ${y + QUIET_ZONE}h${x - begin + 1}v1H${begin + QUIET_ZONE}z`);
    }
  const whole = size + 2 * QUIET_ZONE;
  return (
    `<svg class="c-qr" viewBox="0 0 ${whole} ${whole}" role="img" aria-label="${label}" ` +
    `shape-rendering="crispEdges"><path fill="#fff" d="M0 0h${whole}v${whole}H0z"/><path ` +
    `d="${runs.join("")}"/></svg>`
  );
}
