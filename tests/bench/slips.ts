/**
 * The omission proof of the whole demo and of every collection of the tests against the naive one, slip by slip, with
 * the seconds of processor that it takes: `node tests/bench/slips.ts [FOLDER…]`. Fails where the two differ.
 */
import { join, resolve } from "node:path";
import { loadCollection } from "../../src/compile/load.ts";
import { forceOn } from "../../src/domain/force/force.ts";
import { proveSlips } from "../../src/domain/slips/prove.ts";
import { buildModel } from "../../src/domain/states/model.ts";
import { Findings } from "../../src/findings/finding.ts";
import { compareProofs } from "../domain/slips/naive-proof.ts";
import { COLLECTIONS } from "../fixtures/collections.ts";

const root = resolve(import.meta.dirname, "../..");
const asked = process.argv.slice(2);
for (const folder of asked.length > 0 ? asked : COLLECTIONS) {
  const { collection } = forceOn(await loadCollection(join(root, folder), new Findings()), "2026-11-28");
  for (const platform of collection.platforms) {
    const began = process.cpuUsage(),
      proof = proveSlips(buildModel(platform), collection.service),
      proved = process.cpuUsage(began),
      { slips, covers } = compareProofs(platform, collection.service, proof),
      whole = process.cpuUsage(began);
    const enough = covers.map((each) => `${each.enough} of ${each.lines} (least ${each.least})`);
    const seconds = ({ user, system }: NodeJS.CpuUsage) => ((user + system) / 1e6).toFixed(1);
    const all = proof.complete ? "" : " (not all)";
    process.stdout.write(
      `${folder} ${platform.id}: ${slips} slips, ${proof.changeovers} changeovers${all}, equal; ` +
        `${seconds(proved)} s for the proof, ${seconds(whole)} s with the naive one; ` +
        `lines enough: ${enough.join(", ")}\n`,
    );
  }
}
