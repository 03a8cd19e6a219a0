// @ts-check
// Days of the measuring rule: their dates, the rule's marks and figures, a stretch of days in words.
// A day is a whole number; 1 is the first of January of the year 1, as in Solander's records. Years before 1 and
// beyond 9999 are years like any other, which the browser's own dates can't promise.

const MONTHS = [
  worded("January"), worded("February"), worded("March"), worded("April"),
  worded("May"), worded("June"), worded("July"), worded("August"),
  worded("September"), worded("October"), worded("November"), worded("December"),
];
const WEEKDAYS = [
  worded("Monday"), worded("Tuesday"), worded("Wednesday"), worded("Thursday"),
  worded("Friday"), worded("Saturday"), worded("Sunday"),
];
const DAYS_BEFORE = [0, 31, 59, 90, 120, 151, 181, 212, 243, 273, 304, 334];

/** Width of a letter in heights of the type, with a little to spare; looked at with the two fonts, not measured. */
const LETTER = 0.56;

/** Pixels between two marks that can still be told apart (looked at, not measured). */
const MARKS_APART = 5;

/** @typedef {{year: number, month: number, date: number}} CalendarDate */
/** @typedef {{from: number, days: number, width: number, em: number}} View */
/** @typedef {{unit: "day" | "month" | "year", every: number, days: number, marks: boolean}} Step */
/** @typedef {{x: number, text: string, year: number | null}} Figure */

/** From the finest to the coarsest; each with `marks` also begins wherever a coarser one does. @type {Step[]} */
const STEPS = [
  { unit: "day", every: 1, days: 1, marks: true },
  { unit: "day", every: 5, days: 5, marks: true },
  { unit: "day", every: 10, days: 10, marks: true },
  { unit: "month", every: 1, days: 30, marks: true },
  { unit: "month", every: 3, days: 91, marks: true },
];
for (let power = 1; power < 1e9; power *= 10) {
  for (const every of [power, 2 * power, 5 * power]) {
    STEPS.push({ unit: "year", every, days: 365.2425 * every, marks: every !== 2 * power });
  }
}

/** @param {number} value @param {number} low @param {number} high */
function kept(value, low, high) {
  return Math.max(low, Math.min(high, value));
}

/** @param {number} year */
function isLeap(year) {
  return year % 4 === 0 && (year % 100 !== 0 || year % 400 === 0);
}

/** @param {number} year @param {number} month from 1 @param {number} date */
function dayOf(year, month, date) {
  const past = year - 1;
  const leaps = Math.floor(past / 4) - Math.floor(past / 100) + Math.floor(past / 400);
  return past * 365 + leaps + (DAYS_BEFORE[month - 1] ?? 0) + Number(month > 2 && isLeap(year)) + date;
}

/** @param {number} day @returns {CalendarDate} */
function dateOf(day) {
  let year = Math.floor((day - 1) / 365.2425) + 1;
  while (dayOf(year, 1, 1) > day) year -= 1;
  while (dayOf(year + 1, 1, 1) <= day) year += 1;
  let month = 12;
  while (dayOf(year, month, 1) > day) month -= 1;
  return { year, month, date: day - dayOf(year, month, 1) + 1 };
}

/** @param {number} year */
function yearWords(year) {
  return year > 0 ? String(year) : worded("%(year)s BC", { year: String(1 - year) });
}

/** @param {number} month from 1 */
function monthWords(month) {
  return MONTHS[month - 1] ?? "";
}

/** @param {View} view @param {number} day */
function placeOf(view, day) {
  return ((day - view.from) / view.days) * view.width;
}

/**
 * The days on which a step begins, from the last one before `from` to `to`.
 * @param {Step} step @param {number} from @param {number} to
 */
function startsOf(step, from, to) {
  const begin = dateOf(Math.floor(from));
  const starts = [];
  const monthly = step.unit === "year" ? 12 * step.every : step.unit === "month" ? step.every : 1;
  const month = begin.year * 12 + begin.month - 1;
  for (let at = Math.floor(month / monthly) * monthly; ; at += monthly) {
    const first = dayOf(Math.floor(at / 12), (((at % 12) + 12) % 12) + 1, 1);
    if (first > to) return starts;
    if (step.unit === "day") starts.push(...datesOf(step, first, from, to));
    else starts.push(first);
  }
}

/** The days of one month. @param {Step} step @param {number} first @param {number} from @param {number} to */
function datesOf(step, first, from, to) {
  const { year, month } = dateOf(first);
  const length = dayOf(month === 12 ? year + 1 : year, (month % 12) + 1, 1) - first;
  // A mark on the 31st would stand right before the next month's own.
  const last = step.every === 1 ? length : 30 - step.every + 1;
  const dates = [];
  for (let date = 0; date < last; date += step.every) {
    if (first + date > from - step.every && first + date <= to) dates.push(first + date);
  }
  return dates;
}

/**
 * Days on which a mark stands: short, middle and tall ones, the tall ones at the figures unless every mark has one.
 * @param {View} view @returns {number[][]}
 */
function marksOf(view) {
  const least = MARKS_APART * (view.days / view.width);
  const marked = STEPS.filter((step) => step.marks && step.days >= least);
  const figured = marked.filter((step) => step.days <= figureStep(view).days).length - 1;
  const tall = figured > 0 ? figured : 2;
  const steps = [marked[0], marked[tall - 1], marked[tall]];
  return steps.map((step) => (step ? startsOf(step, view.from, view.from + view.days) : []));
}

/** The finest step whose figures fit between each other. @param {View} view @returns {Step} */
function figureStep(view) {
  const end = dateOf(Math.floor(view.from + view.days)).year;
  const longest = Math.max(yearWords(end).length, yearWords(dateOf(Math.floor(view.from)).year).length);
  // Some days of a month need room for its name, all of them make it.
  const letters = { year: longest, month: 4, day: 2 };
  const fits = (/** @type {Step} */ step) => {
    const most = step.unit === "day" && step.every > 1 ? 9 : letters[step.unit];
    return (most * LETTER + 0.8) * view.em <= (step.days / view.days) * view.width;
  };
  return STEPS.find(fits) ?? /** @type {Step} */ (STEPS[STEPS.length - 1]);
}

/** Figures with their places in pixels. @param {View} view @returns {Figure[]} */
function figuresOf(view) {
  const step = figureStep(view);
  const room = (step.days / view.days) * view.width;
  const full = fullFigure(step, view.from).length * LETTER * view.em;
  const wide = step.unit !== "year" && step.every === 1 && room >= full;
  const stays = wide || (step.unit === "year" && step.every === 1);
  /** @type {Figure[]} */
  const figures = wide || step.unit === "year" ? [] : [contextOf(step, view)];
  let edge = figures[0] ? endOf(figures[0], view) : 0;
  for (const start of startsOf(step, view.from, view.from + view.days)) {
    const text = wide ? fullFigure(step, start) : shortFigure(step, start);
    const own = placeOf(view, start);
    // A year, and a month or day written in full, stays to be read while any of it is seen.
    const year = step.unit === "year" ? dateOf(start).year : null;
    const figure = { x: stays ? Math.max(0, own) : own, text, year };
    const ends = endOf(figure, view);
    if (figure.x < edge || (ends > view.width && figure.x > 0)) continue;
    if (stays && own < 0 && placeOf(view, start + step.days) < ends) continue;
    figures.push(figure);
    edge = ends;
  }
  return figures;
}

/** @param {Figure} figure @param {View} view */
function endOf(figure, view) {
  return figure.x + (figure.text.length * LETTER + 0.5) * view.em;
}

/** The year or month at the left end, for the shorter figures that follow. @param {Step} step @param {View} view */
function contextOf(step, view) {
  const letters = step.unit === "month" ? 4 : 14;
  const seen = dateOf(Math.floor(view.from + (view.days / view.width) * letters * LETTER * view.em));
  const year = yearWords(seen.year);
  return { x: 0, text: step.unit === "month" ? year : `${monthWords(seen.month)} ${year}`, year: null };
}

/** @param {Step} step @param {number} day */
function shortFigure(step, day) {
  const { year, month, date } = dateOf(day);
  if (step.unit === "year" || (step.unit === "month" && month === 1)) return yearWords(year);
  if (step.unit === "month") return monthWords(month).slice(0, 3);
  if (date > 1) return String(date);
  return month === 1 ? `${monthWords(month)} ${yearWords(year)}` : monthWords(month);
}

/** @param {Step} step @param {number} day */
function fullFigure(step, day) {
  const { month, year } = dateOf(Math.floor(day));
  return step.unit === "day" ? dayWords(Math.floor(day)) : `${monthWords(month)} ${yearWords(year)}`;
}

/** @param {number} day */
function dayWords(day) {
  const { year, month, date } = dateOf(day);
  const weekday = WEEKDAYS[(((day - 1) % 7) + 7) % 7];
  return `${weekday} ${date} ${monthWords(month)} ${yearWords(year)}`;
}

/** The stretch from the first day to the last as a person says it. @param {number} first @param {number} last */
function stretchWords(first, last) {
  if (first >= last) return dayWords(first);
  if (last - first > 3 * 366) {
    // A year of which only a sliver is seen is not named.
    const sliver = Math.floor((last - first) / 200);
    const from = yearWords(dateOf(first + sliver).year), to = yearWords(dateOf(last - sliver).year);
    return worded("%(from)s to %(to)s", { from, to });
  }
  const [a, b] = [dateOf(first), dateOf(last)];
  const years = [yearWords(a.year), yearWords(b.year)];
  const plain = last - first > 62;
  const [from, to] = [a, b].map((one) => `${plain ? "" : `${one.date} `}${monthWords(one.month)}`);
  const begins = years[0] === years[1] ? from : `${from} ${years[0]}`;
  return worded("%(from)s to %(to)s", { from: begins ?? "", to: `${to} ${years[1]}` });
}
