/**
 * `rerig import`: documents of a word processor, good and bad. What documents hold is as ECMA-376 (Office Open XML,
 * Parts 1 and 2) says; one is made by the library `docx`, others are written by hand as word processors write them.
 * What comes of them is read by the collection's own reader. Texts and pictures are invented.
 */
import { chmodSync, cpSync, existsSync, mkdtempSync, readdirSync, readFileSync, rmSync, writeFileSync } from "node:fs";
import { tmpdir } from "node:os";
import { join, resolve } from "node:path";
import { AlignmentType, Document, HeadingLevel, ImageRun, LevelFormat, Packer, Paragraph, TextRun } from "docx";
import fc from "fast-check";
import { strToU8, zipSync } from "fflate";
import sharp from "sharp";
import { afterAll, beforeEach, describe, expect, it } from "vitest";
import { loadCollection } from "../../src/compile/load.ts";
import { Findings } from "../../src/findings/finding.ts";
import { escapeLine } from "../../src/import/escape.ts";
import type { Block, Inline, Procedure } from "../../src/schema/collection.ts";
import { type Run, runHere } from "./run-here.ts";

const sled = resolve(import.meta.dirname, "../fixtures/collections/sled");
const work = mkdtempSync(join(tmpdir(), "rerig-import-"));
afterAll(() => rmSync(work, { recursive: true, force: true }));

const collection = join(work, "procedures"),
  platform = join(collection, "sled"),
  document = join(work, "Fit the rack.docx");
beforeEach(() => {
  rmSync(collection, { recursive: true, force: true });
  cpSync(sled, collection, { recursive: true });
});

const everything = () =>
  readdirSync(collection, { recursive: true, encoding: "utf8" })
    .filter((name) => /\.\w+$/.test(name))
    .sort();
const runImport = (...more: string[]): Promise<Run> =>
  runHere(["import", document, "--procedures", collection, "--platform", "sled", ...more], "2026-11-28");

/** The procedure as the collection's reader reads it; that it reads it without an error of text is held here. */
async function readBack(id: string): Promise<Procedure> {
  const findings = new Findings(),
    read = await loadCollection(collection, findings);
  expect(findings.list.filter(({ file, severity }) => file.includes(id) && severity === "error")).toEqual([]);
  return read.platforms.find((each) => each.id === "sled")!.procedures.find((each) => each.id === id)!;
}

const sayInlines = (inlines: readonly Inline[]): string =>
  inlines.map((each) => ("text" in each ? each.text : "children" in each ? sayInlines(each.children) : "")).join("");
const sayBlock = (block: Block): unknown =>
  block.kind === "paragraph"
    ? sayInlines(block.children)
    : block.kind === "list"
      ? block.items.map((item) => item.map(sayBlock))
      : block.kind === "table"
        ? block.rows.map((row) => row.map(sayInlines))
        : block.kind;
const instructions = ({ steps }: Procedure) => steps.map((step) => sayInlines(step.instruction.children));

/** A picture of one colour, so that it is known again: as a camera makes it, with its place and owner. */
const pictureOf = (red: number, orientation = 1): Promise<Buffer> =>
  sharp({ create: { width: 60, height: 40, channels: 3, background: { r: red, g: 90, b: 200 } } })
    .withExif({
      IFD0: { Copyright: "OWNER", Make: "CAMERA" },
      IFD2: { DateTimeOriginal: "2026:05:07 23:41:09" },
      IFD3: { GPSLatitudeRef: "N" },
    })
    .withMetadata({ orientation })
    .jpeg({ quality: 100 })
    .toBuffer();
const redOf = async (path: string): Promise<number> => (await sharp(path).stats()).channels[0]!.mean;

const W = 'xmlns:w="http://schemas.openxmlformats.org/wordprocessingml/2006/main"';
const RELATIONS = "http://schemas.openxmlformats.org/officeDocument/2006/relationships";
const SPACES =
  `${W} xmlns:r="${RELATIONS}" xmlns:a="http://schemas.openxmlformats.org/drawingml/2006/main" ` +
  'xmlns:pic="http://schemas.openxmlformats.org/drawingml/2006/picture" ' +
  'xmlns:wp="http://schemas.openxmlformats.org/drawingml/2006/wordprocessingDrawing" ' +
  'xmlns:mc="http://schemas.openxmlformats.org/markup-compatibility/2006" ' +
  'xmlns:wps="http://schemas.microsoft.com/office/word/2010/wordprocessingShape"';

type Relation = readonly [id: string, type: string, target: string, more?: string];
const relationOf = ([id, type, target, more = ""]: Relation) =>
  `<Relationship Id="${id}" Type="${RELATIONS}/${type}" Target="${target}" ${more}/>`;
/** A relationships part (ECMA-376 Part 2, 6.5). */
const relationsOf = (all: readonly Relation[]) =>
  '<?xml version="1.0" encoding="UTF-8"?><Relationships xmlns="http://schemas.openxmlformats.org/package/2006/' +
  `relationships">${all.map(relationOf).join("")}</Relationships>`;

/** Styles and lists as a word processor keeps them: a style that numbers, based on one that does not. */
const STYLES =
  `<w:styles ${W}><w:style w:type="paragraph" w:default="1" w:styleId="Normal"><w:name w:val="Normal"/></w:style>` +
  '<w:style w:type="paragraph" w:styleId="Title"><w:name w:val="Title"/></w:style>' +
  '<w:style w:type="paragraph" w:styleId="Heading1"><w:name w:val="heading 1"/><w:pPr>' +
  '<w:outlineLvl w:val="0"/></w:pPr></w:style>' +
  '<w:style w:type="paragraph" w:styleId="Work"><w:name w:val="Work"/><w:pPr><w:numPr>' +
  '<w:numId w:val="4"/></w:numPr></w:pPr></w:style>' +
  '<w:style w:type="paragraph" w:customStyle="1" w:styleId="WorkTight"><w:name w:val="Work tight"/>' +
  '<w:basedOn w:val="Work"/></w:style></w:styles>';
const NUMBERING =
  `<w:numbering ${W}><w:abstractNum w:abstractNumId="7"><w:lvl w:ilvl="0"><w:numFmt w:val="decimal"/></w:lvl>` +
  '<w:lvl w:ilvl="1"><w:numFmt w:val="lowerLetter"/></w:lvl></w:abstractNum><w:abstractNum w:abstractNumId="8">' +
  '<w:lvl w:ilvl="0"><w:numFmt w:val="bullet"/></w:lvl></w:abstractNum>' +
  '<w:num w:numId="4"><w:abstractNumId w:val="7"/></w:num><w:num w:numId="5">' +
  '<w:abstractNumId w:val="8"/></w:num></w:numbering>';

/** A document by hand: its body, its pictures by name, and more parts. */
function zipDocument(
  body: string,
  pictures: Readonly<Record<string, Uint8Array>> = {},
  more: Readonly<Record<string, Uint8Array>> = {},
): Uint8Array {
  const media = Object.entries(pictures);
  return zipSync({
    "[Content_Types].xml": strToU8("<Types/>"),
    "_rels/.rels": strToU8(relationsOf([["rId1", "officeDocument", "word/document.xml"]])),
    "word/document.xml": strToU8(
      `<?xml version="1.0" encoding="UTF-8" standalone="yes"?><w:document ${SPACES}>` +
        `<w:body>${body}<w:sectPr/></w:body></w:document>`,
    ),
    "word/_rels/document.xml.rels": strToU8(
      relationsOf([
        ["rId1", "styles", "styles.xml"],
        ["rId2", "numbering", "numbering.xml"],
        ["rId3", "header", "header1.xml"],
        ["rId4", "hyperlink", "https://example.org/pins", 'TargetMode="External"'],
        ...media.map(([name]) => [name.replace(/\W/g, ""), "image", `media/${name}`] as const),
      ]),
    ),
    "word/styles.xml": strToU8(STYLES),
    "word/numbering.xml": strToU8(NUMBERING),
    ...Object.fromEntries(media.map(([name, bytes]) => [`word/media/${name}`, bytes])),
    ...more,
  });
}

const paragraph = (text: string, properties = "") =>
  `<w:p><w:pPr>${properties}</w:pPr><w:r><w:t xml:space="preserve">${text}</w:t></w:r></w:p>`;
const styled = (style: string) => `<w:pStyle w:val="${style}"/>`;
const numbered = (text: string, level = 0, list = 4) =>
  paragraph(text, `<w:numPr><w:ilvl w:val="${level}"/><w:numId w:val="${list}"/></w:numPr>`);
/** A run with a picture, in the line or anchored (ECMA-376 Part 1, 20.4.2.8 and 20.4.2.3). */
const drawn = (name: string, alt: string, how: "inline" | "anchor" = "inline", cut = "") =>
  `<w:r><w:drawing><wp:${how}><wp:docPr id="1" name="Picture 1" descr="${alt}"/><a:graphic><a:graphicData><pic:pic>` +
  `<pic:blipFill><a:blip r:embed="${name.replace(/\W/g, "")}"/>${cut}</pic:blipFill><pic:spPr/></pic:pic>` +
  `</a:graphicData></a:graphic></wp:${how}></w:drawing></w:r>`;

describe("rerig import", () => {
  it("makes a draft of 20 numbered steps and 12 pictures that the library docx has written", async () => {
    const texts = Array.from(
      { length: 20 },
      (_, at) => `Push pin ${at + 1} in until it clicks; 3:1, <5 kg, {two} *hands*`,
    );
    const withPicture = [0, 1, 3, 4, 6, 8, 9, 11, 13, 15, 17, 19],
      pictures = await Promise.all(withPicture.map((_, at) => pictureOf(at * 20)));
    writeFileSync(
      document,
      await Packer.toBuffer(
        new Document({
          numbering: {
            config: [
              {
                reference: "steps",
                levels: [{ level: 0, format: LevelFormat.DECIMAL, text: "%1.", alignment: AlignmentType.LEFT }],
              },
            ],
          },
          sections: [
            {
              children: [
                new Paragraph({ text: "Fit the rack", heading: HeadingLevel.TITLE }),
                ...texts.flatMap((text, at) => [
                  new Paragraph({ text, numbering: { reference: "steps", level: 0 } }),
                  ...(withPicture.includes(at)
                    ? [
                        new Paragraph({
                          children: [
                            new ImageRun({
                              type: "jpg",
                              data: pictures[withPicture.indexOf(at)]!,
                              transformation: { width: 60, height: 40 },
                              altText: { name: "p", title: "p", description: `Pin ${at + 1}: in` },
                            }),
                            new TextRun(""),
                          ],
                        }),
                      ]
                    : []),
                ]),
              ],
            },
          ],
        }),
      ),
    );
    const { status, stdout } = await runImport();
    expect(stdout).toContain("a draft of 20 steps and 12 photos");
    expect(stdout).not.toContain("Not placed");
    expect(status).toBe(0);
    const procedure = await readBack("fit-the-rack");
    expect(procedure).toMatchObject({ title: "Fit the rack", status: "draft", revision: 1 });
    expect(instructions(procedure)).toEqual(texts);
    expect(procedure.steps.map((step) => step.photos.map(({ id }) => id))).toEqual(
      texts.map((_, at) => (withPicture.includes(at) ? [`fit-the-rack-${withPicture.indexOf(at) + 1}`] : [])),
    );
    for (const [index, at] of withPicture.entries()) {
      const photo = join(platform, "photos", `fit-the-rack-${index + 1}`);
      expect(Math.abs((await redOf(`${photo}.jpg`)) - index * 20)).toBeLessThan(4);
      expect(readFileSync(`${photo}.yaml`, "utf8")).toBe(`alt: "Pin ${at + 1}: in"\ntaken: 2026-05-07\n`);
      const { exif, xmp, iptc } = await sharp(`${photo}.jpg`).metadata();
      expect([exif, xmp, iptc]).toEqual([undefined, undefined, undefined]);
    }
  });

  it("makes a draft of a document as LibreOffice 7.4 writes it, and lists what it could not place", async () => {
    // Written by that word processor from a page of 20 numbered steps and 13 pictures, of which two are the same.
    cpSync(resolve(import.meta.dirname, "../fixtures/import/fit-the-cradle.docx"), document);
    const { status, stdout } = await runImport("--code", "LO-1");
    expect(status, stdout).toBe(0);
    expect(stdout).toContain("a draft of 20 steps and 12 photos");
    expect(stdout).toMatch(/Not placed[^]*Picture 1: it stands before the first step of its section/);
    const draft = await readBack("fit-the-cradle");
    expect(draft).toMatchObject({ title: "Fit the cradle", status: "draft" });
    expect(instructions(draft)).toHaveLength(20);
    expect(instructions(draft)[2]).toBe("Release the deck lever until the red mark shows.");
    expect(instructions(draft).at(-1)).toBe("Say that the trolley is ready.");
    // Every step but each fifth had a picture, until there were twelve.
    expect(draft.steps.flatMap(({ photos }, at) => (photos.length > 0 ? [at + 1] : []))).toEqual([
      2, 3, 4, 5, 7, 8, 9, 10, 12, 13, 14, 15,
    ]);
    expect(draft.sections.map(({ title }) => title)).toEqual(["Steps", "Afterwards"]);
  });

  it("reads split runs, styles that number, anchors, levels and changes tracked, as ECMA-376 has them", async () => {
    writeFileSync(
      document,
      zipDocument(
        paragraph("Fit the rack", styled("Title")) +
          paragraph("What this is for.") +
          paragraph("Make ready", styled("Heading1")) +
          // 17.13.8.1 and 17.3.2.25: what is one sentence stands in several runs.
          `<w:p><w:pPr>${styled("WorkTight")}</w:pPr><w:bookmarkStart w:id="0" w:name="_x"/><w:r>` +
          `<w:t xml:space="preserve">Press the </w:t></w:r>` +
          '<w:proofErr w:type="spellStart"/><w:r><w:rPr><w:b/></w:rPr><w:t>le</w:t></w:r><w:r>' +
          '<w:t>ver</w:t></w:r><w:proofErr w:type="spellEnd"/>' +
          '<w:ins w:id="1"><w:r><w:t xml:space="preserve"> down</w:t></w:r></w:ins><w:del w:id="2">' +
          "<w:r><w:delText> up</w:delText></w:r></w:del><w:r><w:t>.</w:t></w:r></w:p>" +
          `<w:p>${drawn("one.jpg", "The lever", "anchor")}</w:p>` +
          numbered("with a flat hand", 1) +
          numbered("not with a foot", 1) +
          numbered("nor with a knee", 0, 5) +
          "<w:p><w:r><w:rPr><w:b/></w:rPr><w:t>Warning:</w:t></w:r><w:r>" +
          '<w:t xml:space="preserve"> Two people lift.</w:t></w:r></w:p>' +
          paragraph("Lift the rack on.", styled("Work")) +
          paragraph("CAUTION") +
          paragraph("A tilted rack bends the guides.") +
          paragraph("Why: it is heavy.") +
          // 17.9.18: number 0 takes the style's number off.
          paragraph("Look once more.", `${styled("Work")}<w:numPr><w:numId w:val="0"/></w:numPr>`) +
          `<w:p><w:r><mc:AlternateContent><mc:Choice Requires="wps"><w:drawing><wp:anchor>` +
          `<wp:docPr id="3" name="Arrow"/><a:graphic><a:graphicData>` +
          "<wps:wsp><wps:spPr/></wps:wsp></a:graphicData></a:graphic></wp:anchor></w:drawing>" +
          "</mc:Choice><mc:Fallback><w:pict/></mc:Fallback></mc:AlternateContent></w:r></w:p>" +
          paragraph("Make fast", styled("Heading1")) +
          `<w:p>${drawn("two.jpg", "")}</w:p>` +
          `<w:p><w:pPr>${styled("Work")}</w:pPr><w:hyperlink r:id="rId4"><w:r>` +
          `<w:t>Turn the pins &amp; look.</w:t></w:r>` +
          `</w:hyperlink>${drawn("one.jpg", "", "inline")}</w:p>`,
        { "one.jpg": await pictureOf(40, 6), "two.jpg": await pictureOf(200) },
        { "word/header1.xml": strToU8(`<w:hdr ${W}>${paragraph("Controlled copy 3")}</w:hdr>`) },
      ),
    );
    const { status, stdout } = await runImport();
    expect(status).toBe(0);
    const procedure = await readBack("fit-the-rack");
    expect(procedure.purpose.map(sayBlock)).toEqual(["What this is for."]);
    expect(procedure.sections.map(({ title }) => title)).toEqual(["Make ready", "Make fast"]);
    expect(procedure.sections[0]!.entries.map(({ kind }) => kind)).toEqual(["step", "alert", "step"]);
    expect(instructions(procedure)).toEqual(["Press the lever down.", "Lift the rack on.", "Turn the pins & look."]);
    const [press, lift, turn] = procedure.steps;
    expect(press!.detail.map(sayBlock)).toEqual([[["with a flat hand"], ["not with a foot"]], [["nor with a knee"]]]);
    expect(lift!.alertsAfter.map(({ signal, children }) => [signal, children.map(sayBlock)])).toEqual([
      ["caution", ["A tilted rack bends the guides."]],
    ]);
    expect(sayInlines(lift!.reason!.children)).toBe("it is heavy.");
    expect(lift!.detail.map(sayBlock)).toEqual(["Look once more."]);
    expect([press, lift, turn].map((step) => step!.photos.map(({ id }) => id))).toEqual([
      ["fit-the-rack-1"],
      [],
      ["fit-the-rack-1"],
    ]);
    // Orientation 6 (Exif 2.32, 4.6.4): the camera was held upright, so that 60 by 40 is 40 by 60.
    expect(await sharp(join(platform, "photos/fit-the-rack-1.jpg")).metadata()).toMatchObject({
      width: 40,
      height: 60,
    });
    expect(
      stdout
        .split("\n")
        .filter((line) => line.startsWith("  - "))
        .slice(0, 6),
    ).toEqual([
      "  - Bold, italic, underlined, raised and coloured letters: their words are kept, not their look",
      "  - Text that was deleted with changes tracked, “up”, by “Press the lever down.”",
      "  - A drawn shape (an arrow, a frame) by “Look once more.”",
      "  - The address https://example.org/pins of a link by “Turn the pins & look.”",
      "  - Text of a header: “Controlled copy 3”",
      "  - Picture 2: it stands before the first step of its section. It is among the photos, and no step shows it",
    ]);
  });

  it("takes rows of a table as steps, and cuts a picture (ECMA-376 Part 1, 17.4 and 20.1.8.55)", async () => {
    const cell = (...content: string[]) => `<w:tc>${content.join("") || "<w:p/>"}</w:tc>`,
      row = (...cells: string[]) => `<w:tr>${cells.join("")}</w:tr>`;
    writeFileSync(
      document,
      zipDocument(
        `<w:tbl>${row(...["No", "What", "Picture", "Who"].map((head) => cell(paragraph(head))))}` +
          row(
            cell(paragraph("1")),
            cell(paragraph("WARNING: Heavy."), paragraph("Lift.")),
            cell(`<w:p>${drawn("one.jpg", "a", "inline", '<a:srcRect l="50000"/>')}</w:p>`),
            cell(paragraph("Both")),
          ) +
          row(cell(numbered("")), cell(paragraph("Set down.")), cell(), cell()) +
          "</w:tbl>",
        { "one.jpg": await pictureOf(10) },
      ),
    );
    const { status, stdout } = await runImport();
    expect(stdout).toContain("a draft of 2 steps and 1 photo");
    expect(status).toBe(0);
    const procedure = await readBack("fit-the-rack");
    expect(instructions(procedure)).toEqual(["Lift.", "Set down."]);
    expect(procedure.steps[0]!.detail.map(sayBlock)).toEqual(["Who: Both"]);
    expect([...procedure.steps[0]!.alerts, ...procedure.steps[0]!.alertsAfter].map(({ signal }) => signal)).toEqual([
      "warning",
    ]);
    expect(await sharp(join(platform, "photos/fit-the-rack-1.jpg")).metadata()).toMatchObject({
      width: 30,
      height: 40,
    });
  });

  it("reads back any text as it was (a property; compared with the text itself)", async () => {
    const signs = fc.constantFrom(
      ..."ab 1.)#+-=*_`~|:[]{}<>&\\!\"'$/@^".split(""),
      "import ",
      ":::step",
      "::move{",
      "é",
      "–",
    );
    const texts = fc.sample(
      fc
        .array(signs, { minLength: 1, maxLength: 12 })
        .map((all) => all.join("").replace(/\s+/g, " ").trim())
        .filter(Boolean),
      { numRuns: 300, seed: 13 },
    );
    const escaped = (text: string) => text.replace(/[&<>]/g, (sign) => `&#${sign.charCodeAt(0)};`);
    writeFileSync(document, zipDocument(texts.map((text) => numbered(escaped(text))).join("")));
    expect((await runImport()).status).toBe(0);
    expect(instructions(await readBack("fit-the-rack"))).toEqual(texts);
    expect(escapeLine("Turn pin 3.5 to the left")).toBe("Turn pin 3.5 to the left");
  });
});

describe("rerig import writes nothing", () => {
  const step = numbered("Press.");
  const patch = (bytes: Uint8Array, size: number): Uint8Array => {
    // Uncompressed size of the first file of the central directory (APPNOTE.TXT 4.3.12).
    const changed = Buffer.from(bytes);
    changed.writeUInt32LE(size, changed.indexOf(Buffer.from("PK\x01\x02", "latin1")) + 24);
    return changed;
  };
  const cases: readonly [what: string, bytes: () => Promise<Uint8Array> | Uint8Array, says: RegExp][] = [
    ["of what is no document", () => strToU8("1. Press."), /is no Word document \(\.docx\)/],
    ["of an empty file", () => new Uint8Array(), /is no Word document/],
    [
      "of a locked or old document",
      () => Buffer.from("d0cf11e0a1b11ae1", "hex"),
      /locked with a password, or is an old/,
    ],
    ["of a zip file that is no document", () => zipSync({ "a.txt": strToU8("a") }), /is no Word document/],
    ["of a document that breaks off", () => zipDocument(step).subarray(0, 900), /breaks off or is damaged/],
    ["of a document without steps", () => zipDocument(paragraph("Press.")), /No numbered step was found/],
    ["of text that is no XML", () => zipDocument("<w:p>"), /part `word\/document.xml` is damaged/],
    [
      "of a document type, by which text grows",
      () => zipDocument(step, {}, { "word/styles.xml": strToU8('<!DOCTYPE a [<!ENTITY b "c">]><a/>') }),
      /part `word\/styles.xml` is damaged/,
    ],
    ["of more than it may unpack", () => patch(zipDocument(step), 600_000_000), /holds more than 500 MB/],
    [
      "of more files than it may hold",
      () => zipSync(Object.fromEntries(Array.from({ length: 5_001 }, (_, at) => [`${at}`, new Uint8Array()]))),
      /holds more than 5,000 files/,
    ],
    [
      "of a picture that breaks off",
      async () =>
        zipDocument(`${step}<w:p>${drawn("a.jpg", "Pin")}</w:p>`, { "a.jpg": (await pictureOf(1)).subarray(0, 500) }),
      /Picture 1 \(“Pin”\) breaks off or is damaged/,
    ],
    [
      "of a picture that is empty",
      () => zipDocument(`${step}<w:p>${drawn("a.jpg", "Pin")}</w:p>`, { "a.jpg": strToU8("") }),
      /Picture 1 \(“Pin”\) breaks off/,
    ],
    ["of a paragraph that no reader takes", () => zipDocument(numbered("a ".repeat(6_000))), /more than 10,000 signs/],
  ];
  it.each(cases)("%s", async (_, bytes, says) => {
    writeFileSync(document, await bytes());
    const before = everything(),
      { status, stdout, stderr } = await runImport();
    expect({ status, stdout }).toEqual({ status: 2, stdout: "" });
    expect(stderr).toMatch(says);
    expect(stderr).not.toMatch(/fault in Rerig/);
    expect(everything()).toEqual(before);
  });

  it("over a file or a photo that is there, and nothing else either", async () => {
    writeFileSync(document, zipDocument(`${step}<w:p>${drawn("a.jpg", "")}</w:p>`, { "a.jpg": await pictureOf(1) }));
    for (const there of ["a-b.mdx", "photos/a-b-1.png"]) {
      cpSync(sled, collection, { recursive: true });
      writeFileSync(join(collection, "sled", there), "mine");
      const before = everything(),
        { status, stderr } = await runImport("--id", "a-b");
      expect(status).toBe(2);
      expect(stderr).toContain("is there already, and nothing is overwritten");
      expect(everything()).toEqual(before);
      expect(readFileSync(join(collection, "sled", there), "utf8")).toBe("mine");
      rmSync(join(collection, "sled", there));
    }
  });

  it.skipIf(process.getuid?.() === 0)("into a folder that may not be written to", async () => {
    writeFileSync(document, zipDocument(step));
    chmodSync(platform, 0o555);
    const { status, stderr } = await runImport();
    chmodSync(platform, 0o755);
    expect(status).toBe(2);
    expect(stderr).toContain("you may not write or read there");
  });

  it("half: photos are gone again when the procedure can't be written", async () => {
    // A name that is too long for the file system fails only when it is made.
    writeFileSync(document, zipDocument(`${step}<w:p>${drawn("a.jpg", "")}</w:p>`, { "a.jpg": await pictureOf(1) }));
    const before = everything(),
      { status, stderr } = await runImport("--id", "a".repeat(250));
    expect(status).toBe(2);
    expect(stderr).toContain("the name is too long");
    expect(everything()).toEqual(before);
    expect(existsSync(document)).toBe(true);
  });
});
