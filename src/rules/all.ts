/** Every rule there is, group by group: a new rule is a new file and a line here. */
import type { Rule } from "../findings/finding.ts";
import { badValue as textBadValue } from "./text/bad-value.ts";
import { duplicateCode as textDuplicateCode } from "./text/duplicate-code.ts";
import { noConfiguration as textNoConfiguration } from "./text/no-configuration.ts";
import { duplicateId as textDuplicateId } from "./text/duplicate-id.ts";
import { holdWithoutCheck as textHoldWithoutCheck } from "./text/hold-without-check.ts";
import { missingField as textMissingField } from "./text/missing-field.ts";
import { notData as textNotData } from "./text/not-data.ts";
import { notRead as textNotRead } from "./text/not-read.ts";
import { syntax as textSyntax } from "./text/syntax.ts";
import { unknownDirective as textUnknownDirective } from "./text/unknown-directive.ts";
import { unknownField as textUnknownField } from "./text/unknown-field.ts";
import { unknownId as textUnknownId } from "./text/unknown-id.ts";
import { doubtFetch as bandsDoubtFetch } from "./bands/doubt-fetch.ts";
import { empty as bandsEmpty } from "./bands/empty.ts";
import { gap as bandsGap } from "./bands/gap.ts";
import { outsideRating as bandsOutsideRating } from "./bands/outside-rating.ts";
import { outsideService as bandsOutsideService } from "./bands/outside-service.ts";
import { overlap as bandsOverlap } from "./bands/overlap.ts";
import { stepNeverApplies as bandsStepNeverApplies } from "./bands/step-never-applies.ts";
import { unclear as bandsUnclear } from "./bands/unclear.ts";
import { leftLoose as partsLeftLoose } from "./parts/left-loose.ts";
import { noHome as partsNoHome } from "./parts/no-home.ts";
import { notEnough as partsNotEnough } from "./parts/not-enough.ts";
import { notThere as partsNotThere } from "./parts/not-there.ts";
import { placeInUse as partsPlaceInUse } from "./parts/place-in-use.ts";
import { standsOn as partsStandsOn } from "./parts/stands-on.ts";
import { unknownStart as partsUnknownStart } from "./parts/unknown-start.ts";
import { held as fasteningHeld } from "./fastening/held.ts";
import { leftOpen as fasteningLeftOpen } from "./fastening/left-open.ts";
import { noChange as fasteningNoChange } from "./fastening/no-change.ts";
import { notChecked as fasteningNotChecked } from "./fastening/not-checked.ts";
import { selfChecked as fasteningSelfChecked } from "./fastening/self-checked.ts";
import { cardTooEarly as planCardTooEarly } from "./plan/card-too-early.ts";
import { noWayBack as planNoWayBack } from "./plan/no-way-back.ts";
import { requiredNotAllowed as planRequiredNotAllowed } from "./plan/required-not-allowed.ts";
import { silentSlip as planSilentSlip } from "./plan/silent-slip.ts";
import { standingUnclear as planStandingUnclear } from "./plan/standing-unclear.ts";
import { unreachable as planUnreachable } from "./plan/unreachable.ts";
import { noMass as loadNoMass } from "./load/no-mass.ts";
import { outOfBalance as loadOutOfBalance } from "./load/out-of-balance.ts";
import { overMass as loadOverMass } from "./load/over-mass.ts";
import { overRating as loadOverRating } from "./load/over-rating.ts";
import { lowResolution as photoLowResolution } from "./photo/low-resolution.ts";
import { markOutside as photoMarkOutside } from "./photo/mark-outside.ts";
import { missing as photoMissing } from "./photo/missing.ts";
import { noAlt as photoNoAlt } from "./photo/no-alt.ts";
import { none as photoNone } from "./photo/none.ts";
import { olderThanItem as photoOlderThanItem } from "./photo/older-than-item.ts";
import { tooLarge as photoTooLarge } from "./photo/too-large.ts";
import { unreadable as photoUnreadable } from "./photo/unreadable.ts";
import { unused as photoUnused } from "./photo/unused.ts";
import { bandDiffers as wordingBandDiffers } from "./wording/band-differs.ts";
import { countDiffers as wordingCountDiffers } from "./wording/count-differs.ts";
import { longSentence as wordingLongSentence } from "./wording/long-sentence.ts";
import { nothingTurned as wordingNothingTurned } from "./wording/nothing-turned.ts";
import { otherName as wordingOtherName } from "./wording/other-name.ts";
import { passive as wordingPassive } from "./wording/passive.ts";
import { sideWithoutViewpoint as wordingSideWithoutViewpoint } from "./wording/side-without-viewpoint.ts";
import { twoActions as wordingTwoActions } from "./wording/two-actions.ts";
import { vague as wordingVague } from "./wording/vague.ts";
import { warningAfterStep as wordingWarningAfterStep } from "./wording/warning-after-step.ts";
import { weightInText as wordingWeightInText } from "./wording/weight-in-text.ts";
import { dateOrder as recordDateOrder } from "./record/date-order.ts";
import { guardLost as recordGuardLost } from "./record/guard-lost.ts";
import { approvalAltered as recordApprovalAltered } from "./record/approval-altered.ts";
import { editionNotRaised as recordEditionNotRaised } from "./record/edition-not-raised.ts";
import { issueAltered as recordIssueAltered } from "./record/issue-altered.ts";
import { issueLost as recordIssueLost } from "./record/issue-lost.ts";
import { notIssued as recordNotIssued } from "./record/not-issued.ts";
import { amendmentLapsed as recordAmendmentLapsed } from "./record/amendment-lapsed.ts";
import { amendmentTooLong as recordAmendmentTooLong } from "./record/amendment-too-long.ts";
import { amendmentUnknownRevision as recordAmendmentUnknownRevision } from "./record/amendment-unknown-revision.ts";
import { amendmentUnknownStep as recordAmendmentUnknownStep } from "./record/amendment-unknown-step.ts";
import { noAuthority as recordNoAuthority } from "./record/no-authority.ts";
import { noChangeEntry as recordNoChangeEntry } from "./record/no-change-entry.ts";
import { outOfDate as recordOutOfDate } from "./record/out-of-date.ts";
import { remarkOpen as recordRemarkOpen } from "./record/remark-open.ts";
import { remarkUnknownStep as recordRemarkUnknownStep } from "./record/remark-unknown-step.ts";
import { reviewOverdue as recordReviewOverdue } from "./record/review-overdue.ts";
import { revisionNotRaised as recordRevisionNotRaised } from "./record/revision-not-raised.ts";
import { sameApprover as recordSameApprover } from "./record/same-approver.ts";
import { safeguardLost as recordSafeguardLost } from "./record/safeguard-lost.ts";
import { signOffsUnderstated as recordSignOffsUnderstated } from "./record/sign-offs-understated.ts";
import { withdrawnIncluded as recordWithdrawnIncluded } from "./record/withdrawn-included.ts";
import { contradiction as cardContradiction } from "./card/contradiction.ts";
import { notLookedAtRule as cardNotLookedAt } from "./card/not-looked-at.ts";
import { doesNotFit as cardDoesNotFit } from "./card/does-not-fit.ts";
import { folderStale as cardFolderStale } from "./card/folder-stale.ts";
import { unknownCheck as cardUnknownCheck } from "./card/unknown-check.ts";

/** All rules. Those without `check` are reported while reading, or by a computation that several share. */
export const rules: readonly Rule[] = [
  textBadValue,
  textDuplicateCode,
  textNoConfiguration,
  textDuplicateId,
  textHoldWithoutCheck,
  textMissingField,
  textNotData,
  textNotRead,
  textSyntax,
  textUnknownDirective,
  textUnknownField,
  textUnknownId,
  bandsDoubtFetch,
  bandsEmpty,
  bandsGap,
  bandsOutsideRating,
  bandsOutsideService,
  bandsOverlap,
  bandsStepNeverApplies,
  bandsUnclear,
  partsLeftLoose,
  partsNoHome,
  partsNotEnough,
  partsNotThere,
  partsPlaceInUse,
  partsStandsOn,
  partsUnknownStart,
  fasteningHeld,
  fasteningLeftOpen,
  fasteningNoChange,
  fasteningNotChecked,
  fasteningSelfChecked,
  planCardTooEarly,
  planNoWayBack,
  planUnreachable,
  planRequiredNotAllowed,
  planSilentSlip,
  planStandingUnclear,
  loadNoMass,
  loadOutOfBalance,
  loadOverMass,
  loadOverRating,
  photoLowResolution,
  photoMarkOutside,
  photoMissing,
  photoNoAlt,
  photoNone,
  photoOlderThanItem,
  photoTooLarge,
  photoUnreadable,
  photoUnused,
  wordingBandDiffers,
  wordingCountDiffers,
  wordingLongSentence,
  wordingNothingTurned,
  wordingOtherName,
  wordingPassive,
  wordingSideWithoutViewpoint,
  wordingTwoActions,
  wordingVague,
  wordingWarningAfterStep,
  wordingWeightInText,
  recordDateOrder,
  recordGuardLost,
  recordSafeguardLost,
  recordEditionNotRaised,
  recordIssueAltered,
  recordIssueLost,
  recordNotIssued,
  recordApprovalAltered,
  recordNoAuthority,
  recordNoChangeEntry,
  recordOutOfDate,
  recordReviewOverdue,
  recordRemarkOpen,
  recordRemarkUnknownStep,
  recordRevisionNotRaised,
  recordSameApprover,
  recordSignOffsUnderstated,
  recordWithdrawnIncluded,
  recordAmendmentLapsed,
  recordAmendmentTooLong,
  recordAmendmentUnknownRevision,
  recordAmendmentUnknownStep,
  cardDoesNotFit,
  cardContradiction,
  cardFolderStale,
  cardUnknownCheck,
  cardNotLookedAt,
];
