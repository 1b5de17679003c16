/**
 * What a spreadsheet takes for a formula begins with one of these (OWASP, "CSV Injection"), full-width forms included; some
 * programs skip white space before it, and in some countries a semicolon or a tab parts cells inside a quoted one.
 */
const FORMULA = /(^|[;\t\r\n])([^\S;\t\r\n]*)(?=[=+\-@\uFF1D\uFF0B\uFF0D\uFF20])/gu;
/** A control character at the start hides what follows it. */
const HIDDEN_START = /^(?=[\t\r\n\0])/u;
const PLAIN_NUMBER = /^[+-]?\d+(?:\.\d+)?$/u;

/** The text of a cell so that no spreadsheet runs it: an apostrophe before whatever begins like a formula. Plain numbers stay numbers. */
export function inertCell(text: string): string {
  if (PLAIN_NUMBER.test(text)) return text;
  return text.replace(FORMULA, "$1$2'").replace(HIDDEN_START, "'");
}

/** Rows as CSV (RFC 4180): every cell inert, quoted where it must be, lines ended by CR LF. */
export function formatCsv(rows: readonly (readonly string[])[]): string {
  return rows.map((row) => `${row.map((cell) => quoted(inertCell(cell))).join(',')}\r\n`).join('');
}

function quoted(cell: string): string {
  return /[",;\t\r\n]|^\s|\s$/u.test(cell) ? `"${cell.replaceAll('"', '""')}"` : cell;
}
