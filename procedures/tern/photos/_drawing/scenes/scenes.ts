/** All drawings of the Tern trolley. */
import type { Scene } from "../engine/scene.ts";
import { capsuleBaseScenes } from "./capsule-base.ts";
import { dressCapsuleScenes, placeRollScenes, stowRollScenes, undressCapsuleScenes } from "./capsule-bed.ts";
import { changeVentilatorScenes, fitSecondVentilatorScenes, removeSecondVentilatorScenes } from "./foot-end.ts";
import { fitHarnessScenes, removeHarnessScenes } from "./harness.ts";
import {
  fitCoolingScenes,
  fitGasShelfScenes,
  openGasShelfScenes,
  removeCoolingScenes,
  removeGasShelfScenes,
} from "./lower-bay.ts";
import { fitPumpRackScenes, removePumpRackScenes } from "./head-end.ts";
import { signScenes } from "./signs.ts";
import { arrangementScenes } from "./arrangements.ts";
import { checkScenes, oxygenScenes } from "./checks.ts";
import { hearingScenes, looseArticleScenes, newbornBeltScenes, restockScenes, vehicleScenes } from "./crew.ts";
import { fitCradleScenes, removeCradleScenes } from "./cradle.ts";
import { seatCapsuleScenes, unseatCapsuleScenes, warmingReadyScenes } from "./capsule.ts";

/** Every scene, in the order of the procedures. */
export const scenes: readonly Scene[] = [
  ...capsuleBaseScenes,
  ...seatCapsuleScenes,
  ...unseatCapsuleScenes,
  ...dressCapsuleScenes,
  ...undressCapsuleScenes,
  ...placeRollScenes,
  ...stowRollScenes,
  ...fitCradleScenes,
  ...removeCradleScenes,
  ...fitHarnessScenes,
  ...removeHarnessScenes,
  ...fitSecondVentilatorScenes,
  ...removeSecondVentilatorScenes,
  ...changeVentilatorScenes,
  ...fitGasShelfScenes,
  ...openGasShelfScenes,
  ...removeGasShelfScenes,
  ...fitCoolingScenes,
  ...removeCoolingScenes,
  ...fitPumpRackScenes,
  ...removePumpRackScenes,
  ...hearingScenes,
  ...vehicleScenes,
  ...looseArticleScenes,
  ...restockScenes,
  ...newbornBeltScenes,
  ...warmingReadyScenes,
  ...checkScenes,
  ...oxygenScenes,
  ...signScenes,
  ...arrangementScenes,
];
