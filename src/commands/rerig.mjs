#!/usr/bin/env node
// Starts the command line on the Node.js that comes with the packages, whatever Node.js the machine has.
import { spawn } from "node:child_process";
import { existsSync } from "node:fs";
import * as nodeModule from "node:module";
import { fileURLToPath } from "node:url";

const [major = 0, minor = 0] = process.versions.node.split(".").map(Number);
if (major > 23 || (major === 23 && minor >= 6)) {
  nodeModule.enableCompileCache?.();
  const { main } = await import("./main.ts");
  await main(process.argv.slice(2));
} else {
  const node = fileURLToPath(new URL("../../node_modules/node/bin/node", import.meta.url));
  if (!existsSync(node)) {
    console.error("Rerig needs its packages: run `npm ci` in its folder first.");
    process.exit(2);
  }
  // Room for young objects (MB): trees of parsed files are short-lived, and are reclaimed in fewer goes. The npm
  // scripts ask for the same.
  const child = spawn(node, ["--max-semi-space-size=64", fileURLToPath(import.meta.url), ...process.argv.slice(2)], {
    stdio: "inherit",
  });
  // Who stops this process stops the program with it; Ctrl+C reaches both, and the program says when it has ended.
  process.on("SIGINT", () => {});
  for (const each of ["SIGTERM", "SIGHUP"]) process.on(each, () => child.kill(each));
  child.on("exit", (status, signal) => process.exit(signal ? 2 : (status ?? 2)));
}
