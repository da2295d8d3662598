/** Issues as an Atom feed (RFC 4287), the same for the same issues whenever it is made. */
import { slugOf } from "../../schema/wording.ts";
import { escapeMarkup } from "../words/escape.ts";

/** One issue of a document. */
export interface FeedEntry {
  /** What tells it from every other issue, for ever: `tern/procedures/seat-capsule/3`. */
  readonly id: string;
  readonly title: string;
  /** `YYYY-MM-DD`, the day of the change. */
  readonly date: string;
  readonly author?: string;
  readonly summary: string;
  /**
   * Address in the site of the page that says what changed, if there is one: `tern/procedures/seat-capsule/notices/3/`.
   */
  readonly address?: string;
}

/** A feed as Atom has it (RFC 4287), before it is written as XML. */
export interface Feed {
  readonly title: string;
  /**
   * The service, which is the author of what names none (RFC 4287, 4.1.1: every entry has an author, its own or the
   * feed's).
   */
  readonly author: string;
  readonly language: string;
  /** The site's address with a closing `/`; without one, ids are tag URIs and links are relative. */
  readonly site?: string;
  /** Newest first. */
  readonly entries: readonly FeedEntry[];
}

/**
 * The feed as an XML document. `updated` is the newest entry's day, or the first of 1970 for an empty feed: no clock is
 * read.
 */
export function makeFeed({ title, author, language, site, entries }: Feed): string {
  const newest =
    entries
      .map(({ date }) => date)
      .sort()
      .at(-1) ?? "1970-01-01";
  const idOf = (path: string, date: string) => (site ? `${site}${path}` : tagUri(author, path, date));
  return [
    `<?xml version="1.0" encoding="utf-8"?>`,
    `<feed xmlns="http://www.w3.org/2005/Atom" xml:lang="${escapeXml(language)}">`,
    ` <id>${escapeXml(idOf("issues.atom", "1970-01-01"))}</id>`,
    ` <title>${escapeXml(title)}</title>`,
    ` <updated>${newest}T00:00:00Z</updated>`,
    ` <author><name>${escapeXml(author)}</name></author>`,
    ...(site
      ? [
          ` <link rel="self" type="application/atom+xml" href="${escapeXml(`${site}issues.atom`)}"/>`,
          ` <link rel="alternate" type="text/html" href="${escapeXml(`${site}history/`)}"/>`,
        ]
      : []),
    ...entries.flatMap((entry) => [
      ` <entry>`,
      `  <id>${escapeXml(idOf(`issues.atom#${entry.id}`, entry.date))}</id>`,
      `  <title>${escapeXml(entry.title)}</title>`,
      `  <updated>${entry.date}T00:00:00Z</updated>`,
      ...(entry.author ? [`  <author><name>${escapeXml(entry.author)}</name></author>`] : []),
      ...(entry.address
        ? [`  <link rel="alternate" type="text/html" href="${escapeXml(`${site ?? ""}${entry.address}`)}"/>`]
        : []),
      `  <summary>${escapeXml(entry.summary)}</summary>`,
      ` </entry>`,
    ]),
    `</feed>`,
    "",
  ].join("\n");
}

/**
 * A tag URI (RFC 4151) for a service without a site: unique as long as no other service of that name uses the same
 * tool.
 */
function tagUri(author: string, path: string, date: string): string {
  const name = slugOf(author) || "service";
  return `tag:${name}.invalid,${date}:${encodeURI(path).replaceAll("#", "/")}`;
}

/** Text for XML 1.0: markup escaped, and characters that a document may not hold left out. */
export function escapeXml(text: string): string {
  return escapeMarkup(
    text.replace(
      /[\u0000-\u0008\u000B\u000C\u000E-\u001F\uFFFE\uFFFF]|[\uD800-\uDBFF](?![\uDC00-\uDFFF])|(?<![\uD800-\uDBFF])[\uDC00-\uDFFF]/g,
      "",
    ),
  );
}
