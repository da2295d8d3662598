/** The whole trolley in any state: what scenes start from. */
import { join, kept, type Shape } from "../engine/shapes.ts";
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
  type OxygenSigns,
} from "./bays.ts";
import { capsuleBase, capsulePin, newbornCapsule, pinPlaces, type CapsuleState } from "./capsule.ts";
import { deckLever, flapCatch, headFlap, leadSocket, sideRails } from "./deck-fastenings.ts";
import { footEnd } from "./foot-end.ts";
import { deckBoard, undercarriage } from "./frame.ts";
import { headEnd } from "./head-end.ts";
import { pinsInTray } from "./pins.ts";
import { childCradle, cradleStrap, cradleYoke, deckHarness, deckMattress, strapLines } from "./restraints.ts";

// Parts of which every scene has the same few; each is made once.
const below = kept(undercarriage),
  bayFrame = kept(lowerBay),
  cylinderParts = kept(cylinderShelf),
  cylinder = kept(oxygenCylinder),
  clampParts = kept(cylinderClamps),
  board = kept(deckBoard),
  headParts = kept(headEnd),
  footParts = kept(footEnd),
  bag = kept(responseBag),
  pouchFull = kept(() => hearingPouch(earsInPouch())),
  railParts = kept(sideRails);

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
  readonly oxygen?: OxygenSigns;
  readonly brakes?: boolean;
}

/** The trolley without anything on its deck. */
export function trolley({
  lever = 180,
  flap = 90,
  rails = 180,
  pins = true,
  bay = bag(),
  latch = false,
  clamps = 0,
  cylinders = true,
  head = {},
  strap = "bare",
  rail = 0,
  pouch = true,
  legs = true,
  oxygen = {},
  brakes = true,
}: TrolleyState = {}): Shape {
  return join(
    legs &&
      join(
        below(brakes),
        bayFrame(),
        bay,
        bayLatch(latch),
        cylinderParts(),
        cylinders && join(...cylinderLines.map((at) => cylinder(at, oxygen))),
        clampParts(clamps),
        pouch && pouchFull(),
      ),
    board(),
    leadSocket(),
    headParts(head),
    footParts(strap, rail),
    deckLever(lever),
    headFlap(flap),
    flapCatch(flap < 80),
    pins && pinsInTray(),
    railParts(rails),
  );
}
/** The three kinds of hearing protection in their compartments. */
export const earsInPouch = (): Shape =>
  join(
    newbornEarCup([1110, 508, 640]),
    newbornEarCup([1110, 508, 692]),
    earDefender("small-ear-defender", [1189, 526, 640], 0.4),
    earDefender("large-ear-defender", [1279, 526, 668], 0.68),
  );

/** The capsule on its base with its pins in. */
export const seatedCapsule = kept((state: CapsuleState = {}): Shape =>
  join(
    capsuleBase(true),
    newbornCapsule(state),
    ...pinPlaces.map((p) => capsulePin([p[0], p[1], p[2] + 20], { turned: 90 })),
  ),
);
/** The cradle with its four straps closed. */
export const strappedCradle = (): Shape => join(childCradle(), cradleYoke(), ...strapLines.map((x) => cradleStrap(x)));
/** The mattress with its harness. */
export const harnessedMattress = (): Shape => join(deckMattress(), deckHarness());
