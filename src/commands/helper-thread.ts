/** A thread that reads and judges platforms beside the process that asks for them (`at-once.ts`). */
import { parentPort, workerData } from "node:worker_threads";
import { once } from "node:events";
import { compiledIn, shelfIn } from "../build/shelf.ts";
import { loadCollection, readPlatforms } from "../compile/load.ts";
import { keepOn } from "../domain/words/keep.ts";
import { Findings } from "../findings/finding.ts";
import { judgePlatforms } from "../rules/run-rules.ts";
import { speakFor } from "../words/words.ts";
import { speakerFor } from "./spoken-for.ts";
import { claimed, type HelperNews, type HelperStart } from "./at-once.ts";

if (parentPort) {
  const port = parentPort,
    { folder, day, hashPhotos, platforms, claims } = workerData as HelperStart,
    say = (news: HelperNews) => {
      port.postMessage(news);
    };
  keepOn(shelfIn());
  // As the command speaks that is run.
  speakFor(speakerFor(["--procedures", folder]));
  const options = { hashPhotos, compiled: compiledIn(folder) },
    allRead = once(port, "message");
  // From the other end than the process that asks.
  await readPlatforms(folder, claimed(platforms, claims.read, true), options);
  say("read");
  await allRead;
  const findings = new Findings(),
    collection = await loadCollection(folder, findings, options);
  speakFor(collection.service);
  judgePlatforms(collection, findings, day, claimed(platforms, claims.judged, true));
  say("judged");
  port.close();
}
