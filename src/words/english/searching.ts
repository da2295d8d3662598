/** English: other words by which the search finds a page, set apart by commas (how entries are written: `en.ts`). */
/* eslint-disable @stylistic/max-len -- joined by `+`, an entry is no literal, and tsc does not ask for its slots */
export const searching = {
  /** An entry for each kind of page. */
  sought: {
    cards: "checklists",
    chooser: "choose, chooser, weight, home, band",
    notice: "notice, change, what is new",
    amendment: "amendment, temporary, slip, withdrawn, recall, notice",
    amendments: "amendment, temporary, slip, withdrawn, recall, notice",
    away: "away, leave, back from leave, since, what has changed since, catch up, been off, back at work, returning, missed",
    bands:
      "danger weights, pounds, lb, unknown weight, conversion, bands, boundary, limit, cut off, kilograms, borderline, on the limit, on the edge, heaviest, lightest, estimate, guess, guessed, convert",
    changeover: "change over, changeover, swap, rebuild, convert",
    changeovers:
      "change over, changeover, swap, convert, rebuild, matrix, how long, times, reconfigure, switch, alone, on my own, from one to another, quickest",
    drills: "drill, scenario, exercise, simulation, practise, train, rehearse, practice run",
    item: "spare, how many, missing, lost, broken, weight, mass",
    fastening: "rated, force, breaking load, strength, hold, stuck, broken",
    practise:
      "practise, practice, questions, quiz, test, learn, revise, test myself, quizzes, knowledge check, self assessment",
    questionPaper: "question paper, test, exam, print, quiz on paper, answer sheet",
    documentHistory: "history, revisions, what changed",
    callToReady: "call to ready, time to ready, mobilisation, walk, fetch",
    endurance: "endurance, oxygen, minutes, cylinder, battery, how long, litres, last, run out, left",
    ready: "readiness, daily check, shift check, restock, expiry, service date, endurance, oxygen minutes",
    restock:
      "restock, after the mission, after a trip, after a job, after a run, after a transfer, clean, charge, refill, reseal, tidy up",
    stateWords: "ready tag, handle card, not ready, red tag, state of the {platform}",
    signOff:
      "sign off, signed off, competency, assessment, record, assessor, forms, competence, logbook, observed practice, supervised, reassess, reassessed, who is signed off, who may, certificate, authorised, training record",
    study:
      "study, learn, lessons, path, new starter, first week, train, start, induction, orientation, onboarding, new here, beginner",
    tonight:
      "tonight, out of service, broken, missing, cut, lost, spare, without, stand in, what can still be carried, not working, failed, faulty, defect, damaged, unserviceable, do without, workaround",
    check:
      "check code, check word, current, old card, laminated, valid, out of date, up to date, still current, in date",
    configurations: "arrangements, setups, layouts, overview, compare",
    device: "offline, no signal, save, download, internet, wifi, app, tablet, flight mode",
    folder: "folder, binder, list of effective cards",
    folders: "binder, copies, reprint, swap, laminated, out of date, which cards to reprint, replace cards, audit",
    glossary: "glossary, definitions, meaning, jargon, abbreviation, terminology, acronym, term",
    guidePart: "writing, format, author",
    guide: "writing, format, author, fields, yaml, markdown",
    guideOfSteps: "writing, format, author, directive, step, move, turn, check",
    history:
      "what has changed, what is new, history, revisions, notices, last issue, recent changes, latest changes, release notes",
    inventory:
      "equipment list, kit list, inventory, contents, parts list, what goes where, where everything lives, stowage, list of items",
    incidents:
      "near misses, accidents, what happened, reports, adverse event, what went wrong, mistakes, common errors, lessons learned, went wrong",
    review:
      "review, overdue, findings, warnings, draft, waiting for approval, awaiting approval, to be approved, pending, proposed, proposals, in review, due, due for review, next review, not approved",
    ruleGroup: "check, checker, findings, errors, warnings, message, says, complains",
    rules: "check, findings, errors, warnings, policy",
  },
  /** What each page of the guide says how to write, by the names that writers have for it. */
  toBeWritten: {
    steps: "step, steps, check, checks, warning, warnings, note, notes, move, turn, hold",
    amendment: "amendment, temporary amendment, notice, recall",
    configuration: "configuration, arrangement, setup, checklist, card, band, weight band",
    equipment: "equipment, item, kit, part, spare, mass",
    folders: "folder, binder, copies",
    incidents: "incident, near miss, accident, report",
    option: "option, extra",
    photo: "photo, picture, image, illustration, diagram, drawing, mark, arrow",
    platform: "{platform}, place, fastening",
    procedure: "procedure, instruction",
    reading: "background page, background, reading, explanation, text, page",
    review: "review, approval",
    service: "service, role, word, term, language, other name",
  },
  /**
   * What a query says of the things that it names (`domain/find/intent.ts`). People stand with the kilograms that they
   * weigh or so, from memory of the medians of growth standards: they only tell which arrangement is meant.
   */
  intents: {
    from: "from, instead of, in place of, out of",
    off: "off, out, remove, removed, take off, taken off, comes off, lift off, strip, without, dropped off, delivered, handed over",
    to: "to, into, for, then, back to, over to, on to, onto, with, by, in",
    on: "on, back on, back in, in, fit, put on, goes on, put, up, standby, stand by",
    either: "or, versus, vs, and, both, not",
    rebuild:
      "rebuild, rebuilding, change, changing, changeover, change over, swap, swap over, switch, switch over, convert, reconfigure, set up, setup, rig, turn, going, go",
    howLong: "how long, how many minutes, how quick, how fast, minutes, minute, mins, time, quickest",
    card: "card, cards, checklist, check list, read out, reading out, read aloud, read back, challenge and response, challenge response, print, printed, printing, printout, laminated, pocket card, a4, a5, a6, landscape",
    signOff:
      "sign off, signed off, signing off, signoff, signed for, assessor, assess, assessed, assessment, competency",
    record: "sign, sheet, form, record, paper, papers",
    back: "back, away, been off, returned, return, returning, gone, absent, absence, leave, holiday, break, sick leave",
    while: "leave, holiday, sick leave, day, days, week, weeks, month, months, year, years, a while",
    news: "different, changed, change, changes, new, news, missed, happened, catch up, updates",
    changed:
      "what is new, what new, whats new, what changed, what has changed, whats changed, what is different, whats different, what was changed, latest change, last change, changes to, changes in, new in, new with, news of",
    write:
      "add, adding, write, write up, writing, edit, author, create, insert, upload, attach, record, enter, log, draft, define",
    count: "one, two, three, four, five, six, seven, eight, nine, ten",
    people:
      "preterm 2, prem 2, premature 2, newborn 3.5, neonate 3.5, baby 4, toddler 12, child 20, kid 20, boy 20, girl 20, schoolchild 25, teenager 55, teen 55, adolescent 55, adult 75, grown up 75",
  },
} as const;
