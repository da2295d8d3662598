/** Issues as a feed. */
import type { APIRoute } from "astro";
import { issueEntries } from "../site/records/reviews.ts";
import { makeFeed } from "../domain/records/feed.ts";

/** The file. */
export const GET: APIRoute = ({ locals }) => {
  const { name, language, site } = locals.site.collection.service;
  return new Response(
    makeFeed({
      title: locals.words.records.feedTitle({ name }),
      author: name,
      language,
      ...(site ? { site } : {}),
      entries: issueEntries(locals.site),
    }),
  );
};
