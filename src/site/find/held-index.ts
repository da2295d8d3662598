/**
 * The full-text index, made in another process, which a process that builds again holds from site to site: the index
 * takes a page at an address that it has in place of the one before (`addHTMLFile` of pagefind 1.6), so that only what
 * says something else is read again. The same pages in the same order give the same files, however it came to them.
 */
import { createHash } from "node:crypto";
import { close, createIndex } from "pagefind";

/** Pages on their way into the index at most, so that it works while pages are rendered and does not hold them all. */
const ON_THE_WAY = 16;

/** A page as the index is given it. */
export interface IndexedPage {
  readonly address: string;
  /** The markup that is read. */
  readonly content: () => string;
  /** As `TakenPage.same`: the same thing, the same markup. */
  readonly same?: object | undefined;
}

type Index = NonNullable<Awaited<ReturnType<typeof createIndex>>["index"]>;
type IndexFile = Awaited<ReturnType<Index["getFiles"]>>["files"][number];

interface Made {
  readonly index: Index;
  readonly language: string;
  /** What the index has of each page, in its order. */
  readonly pages: { readonly address: string; readonly digest: string; readonly same: object | undefined }[];
  /** Its files, while they are those of its pages. */
  files?: readonly IndexFile[];
}

/** Indexes that the other process has. */
let open = 0;

/** An index that is filled for one site after the other, never for two at the same time. */
export class HeldIndex {
  #made: Made | undefined;

  /** Begins the index of a site. Throws where the other process can't be begun. */
  async begin(language: string): Promise<IndexOfSite> {
    if (this.#made?.language !== language) await this.#anew(language);
    return new IndexOfSite(this.#made!, {
      anew: async () => this.#anew(language),
      // What the index has is not known any more: the next site begins with nothing.
      lost: (made) => {
        if (this.#made === made) this.end();
      },
    });
  }

  async #anew(language: string): Promise<Made> {
    this.end();
    const { index, errors } = await createIndex({ forceLanguage: language });
    if (!index) throw new Error(`The search index could not be begun: ${errors.join("; ")}`);
    open += 1;
    return (this.#made = { index, language, pages: [] });
  }

  /** Forgets the index, and ends the other process if it has no other one. */
  end(): void {
    if (!this.#made) return;
    const { index } = this.#made;
    this.#made = undefined;
    open -= 1;
    // Nobody waits for an answer: the process may have ended by itself.
    if (open > 0) void index.deleteIndex().catch(() => undefined);
    else void close();
  }
}

interface Holder {
  /** Begins with nothing. */
  readonly anew: () => Promise<Made>;
  readonly lost: (made: Made) => void;
}

/** The index of one site, which grows by a page at a time. */
class IndexOfSite {
  #made: Made;
  readonly #holder: Holder;
  readonly #added: IndexedPage[] = [];
  readonly #waiting = new Set<Promise<void>>();
  readonly #refused: string[] = [];

  constructor(made: Made, holder: Holder) {
    this.#made = made;
    this.#holder = holder;
  }

  /** Takes a page, one after the other in the order of the calls. */
  async add(page: IndexedPage): Promise<void> {
    const { pages } = this.#made,
      at = this.#added.push(page) - 1;
    // The order of the pages is the order of the answers: one that came, went or moved is no edit of a page.
    if (at < pages.length && pages[at]!.address !== page.address) await this.#beginAgain();
    else await this.#give(page, at);
  }

  /** The files of the index over the pages that were added. Throws what one of them met. */
  async files(): Promise<readonly IndexFile[]> {
    if (this.#added.length < this.#made.pages.length) await this.#beginAgain();
    await Promise.all(this.#waiting);
    if (this.#refused.length > 0) throw new Error(`The search index refused ${this.#refused[0]}`);
    if (this.#made.files) return this.#made.files;
    try {
      const { files, errors } = await this.#made.index.getFiles();
      if (errors.length > 0) throw new Error(`The search index could not be made: ${errors.join("; ")}`);
      return (this.#made.files = files);
    } catch (error) {
      this.#holder.lost(this.#made);
      throw error;
    }
  }

  async #beginAgain(): Promise<void> {
    await Promise.all(this.#waiting);
    this.#made = await this.#holder.anew();
    for (const [at, page] of this.#added.entries()) await this.#give(page, at);
  }

  async #give({ address, content, same }: IndexedPage, at: number): Promise<void> {
    const { pages } = this.#made,
      known = pages[at];
    if (same !== undefined && known?.same === same) return;
    const text = content(),
      digest = createHash("sha256").update(text).digest("hex");
    pages[at] = { address, digest, same };
    if (known?.digest === digest) return;
    delete this.#made.files;
    const sent: Promise<void> = this.#send(address, text)
      .catch((error: unknown) => {
        this.#refused.push(`${address}: ${error instanceof Error ? error.message : String(error)}`);
        this.#holder.lost(this.#made);
      })
      .finally(() => this.#waiting.delete(sent));
    this.#waiting.add(sent);
    if (this.#waiting.size >= ON_THE_WAY) await Promise.race(this.#waiting);
  }

  async #send(address: string, content: string): Promise<void> {
    const { errors } = await this.#made.index.addHTMLFile({ url: address, content });
    if (errors.length) throw new Error(errors.join("; "));
  }
}
