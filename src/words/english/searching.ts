/** English: other words by which the search finds a page, set apart by commas (how entries are written: `en.ts`). */
/* eslint-disable @stylistic/max-len -- joined by `+`, an entry is no literal, and tsc does not ask for its slots */
export const searching = {
  /** An entry for each kind of page. */
  sought: {
    chooser: "choose, chooser, weight, home, band",
    notice: "notice, change, what is new",
    amendment: "amendment, temporary, slip, withdrawn, recall, notice",
    amendments: "amendment, temporary, slip, withdrawn, recall, notice",
    away: "away, leave, back from leave, since, what has changed since, catch up, been off, back at work, returning",
    bands: "danger weights, pounds, lb, unknown weight, conversion, bands, boundary, limit, cut off, kilograms",
    changeover: "change over, changeover, swap, rebuild, convert",
    changeovers: "change over, changeover, swap, convert, rebuild, matrix, how long, times, reconfigure, switch",
    drills: "drill, scenario, exercise, simulation, practise, train, rehearse",
    item: "spare, how many, missing, lost, broken, weight, mass",
    fastening: "rated, force, breaking load, strength, hold, stuck, broken",
    practise: "practise, practice, questions, quiz, test, learn, revise, test myself",
    questionPaper: "question paper, test, exam, print",
    documentHistory: "history, revisions, what changed",
    callToReady: "call to ready, time to ready, mobilisation, walk, fetch",
    endurance: "endurance, oxygen, minutes, cylinder, battery, how long, litres, last, run out, left",
    ready: "readiness, daily check, shift check, restock, expiry, service date, endurance, oxygen minutes",
    restock: "restock, after the mission, clean, charge, refill, reseal",
    stateWords: "ready tag, handle card, not ready, red tag, state of the {platform}",
    signOff:
      "sign off, signed off, competency, assessment, record, assessor, forms, competence, logbook, observed practice, supervised",
    study:
      "study, learn, lessons, path, new starter, first week, train, start, induction, orientation, onboarding, new here, beginner",
    tonight:
      "tonight, out of service, broken, missing, cut, lost, spare, without, stand in, what can still be carried, not working, failed, faulty, defect, damaged, unserviceable",
    check: "check code, check word, current, old card, laminated, valid, out of date, up to date",
    device: "offline, no signal, save, download, internet, wifi",
    folder: "folder, binder, list of effective cards",
    folders: "binder, copies, reprint, swap, laminated, out of date",
    glossary: "glossary, definitions, meaning, jargon, abbreviation, terminology, acronym, term",
    guidePart: "writing, format, author",
    guide: "writing, format, author, fields, yaml, markdown",
    guideOfSteps: "writing, format, author, directive, step, move, turn, check",
    history: "what has changed, what is new, history, revisions, notices",
    incidents: "near misses, accidents, what happened, reports, adverse event, what went wrong",
    review: "review, overdue, findings, warnings, draft",
    ruleGroup: "check, findings, errors, warnings",
    rules: "check, findings, errors, warnings, policy",
  },
} as const;
