/** The whole trolley in any state: what scenes start from. */
import { join, type Shape } from "../engine/shapes.ts";
import {
  bayLatch,
  cylinderClamps,
  cylinderLines,
  cylinderShelf,
  earDefender,
  hearingPouch,
  lowerBay,
  newbornEarCup,
  oxygenCylinder,
  responseBag,
} from "./bays.ts";
import { capsuleBase, capsulePin, newbornCapsule, pinPlaces, type CapsuleState } from "./capsule.ts";
import { deckLever, flapCatch, headFlap, leadSocket, sideRails } from "./deck-fastenings.ts";
import { footEnd } from "./foot-end.ts";
import { deckBoard, undercarriage } from "./frame.ts";
import { headEnd } from "./head-end.ts";
import { pinsInTray } from "./pins.ts";
import { childCradle, cradleStrap, deckHarness, deckMattress, strapLines } from "./restraints.ts";

/** What may differ from the trolley with an empty deck; angles in degrees. */
export interface TrolleyState {
  readonly lever?: number;
  readonly flap?: number;
  readonly rails?: number;
  readonly pins?: boolean;
  readonly bay?: Shape;
  readonly latch?: boolean;
  readonly clamps?: number;
  readonly cylinders?: boolean;
  readonly head?: Parameters<typeof headEnd>[0];
  readonly strap?: Parameters<typeof footEnd>[0];
  readonly rail?: number;
  readonly pouch?: boolean;
  readonly legs?: boolean;
}

/** The trolley without anything on its deck. */
export function trolley({
  lever = 180,
  flap = 90,
  rails = 180,
  pins = true,
  bay = responseBag(),
  latch = false,
  clamps = 0,
  cylinders = true,
  head = {},
  strap = "bare",
  rail = 0,
  pouch = true,
  legs = true,
}: TrolleyState = {}): Shape {
  return join(
    legs &&
      join(
        undercarriage(),
        lowerBay(),
        bay,
        bayLatch(latch),
        cylinderShelf(),
        cylinders && join(...cylinderLines.map(oxygenCylinder)),
        cylinderClamps(clamps),
        pouch && hearingPouch(earsInPouch()),
      ),
    deckBoard(),
    leadSocket(),
    headEnd(head),
    footEnd(strap, rail),
    deckLever(lever),
    headFlap(flap),
    flapCatch(flap < 80),
    pins && pinsInTray(),
    sideRails(rails),
  );
}
/** The three kinds of hearing protection in their compartments. */
export const earsInPouch = (): Shape =>
  join(
    newbornEarCup([1110, 508, 640]),
    newbornEarCup([1110, 508, 692]),
    earDefender("small-ear-defender", [1189, 526, 656], 0.5),
    earDefender("large-ear-defender", [1279, 526, 664], 0.6),
  );

/** The capsule on its base with its pins in. */
export const seatedCapsule = (state: CapsuleState = {}): Shape =>
  join(
    capsuleBase(true),
    newbornCapsule(state),
    ...pinPlaces.map((p) => capsulePin([p[0], p[1], p[2] + 20], { turned: 90 })),
  );
/** The cradle with its four straps closed. */
export const strappedCradle = (): Shape => join(childCradle(), ...strapLines.map((x) => cradleStrap(x)));
/** The mattress with its harness. */
export const harnessedMattress = (): Shape => join(deckMattress(), deckHarness());
