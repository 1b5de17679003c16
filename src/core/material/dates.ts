/** Whether two dates may be one. Only those written year first can be told apart: "05/06/2026" could be either. */
export function sameDate(a: string, b: string): boolean {
  const dayA = yearFirst(a);
  const dayB = yearFirst(b);
  return dayA === undefined || dayB === undefined || dayA === dayB;
}

function yearFirst(text: string): string | undefined {
  const [, year, month, day] = /^(\d{4})[-/.: ]?(\d{2})[-/.: ]?(\d{2})(?!\d)/u.exec(text.trim()) ?? [];
  return year === undefined ? undefined : `${year}-${month}-${day}`;
}
