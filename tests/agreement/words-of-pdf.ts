/** What is written in a PDF. */
import { getDocument } from "pdfjs-dist/legacy/build/pdf.mjs";

/** The texts of a PDF, one for each page, in the order in which they are drawn. */
export async function textsOfPdf(bytes: Uint8Array): Promise<string[]> {
  const task = getDocument({ data: new Uint8Array(bytes), useSystemFonts: true, verbosity: 0 }),
    pdf = await task.promise,
    pages: string[] = [];
  for (let number = 1; number <= pdf.numPages; number += 1) {
    const { items } = await (await pdf.getPage(number)).getTextContent();
    pages.push(items.map((item) => ("str" in item ? item.str : "")).join(" "));
  }
  await task.destroy();
  return pages;
}
