import { z } from 'zod';
import { FINDING_CODES } from '../../core/material/finding.ts';

/** The name and version of the shape. */
export const RECEIPT_SCHEMA = 'gemel/receipt/1';

const text = z.string();
const count = z.int().min(0);
const codes = Object.values(FINDING_CODES).flat();

export const receiptFile = z
  .strictObject({
    schema: z.literal(RECEIPT_SCHEMA),
    package: text.meta({ description: 'name of the folder' }),
    show: text,
    revision: count.meta({ description: '0 when the package does not say' }),
    result: z.enum(['whole', 'look', 'not whole']).meta({ description: 'not whole: at least one finding stops; look: at least one warns' }),
    seal: z.strictObject({ generations: count, verifiedFiles: count, hashedBytes: count }),
    files: count,
    bytes: count,
    shots: z.array(
      z.strictObject({
        shot: text,
        folder: text,
        change: z.array(text),
        frames: z.strictObject({ expected: count, found: count }),
        headers: z.strictObject({ checked: count, differ: count }).meta({ description: 'DPX and EXR headers read, and those whose timecode or rate is not what shot.json says' }),
        result: z.enum(['whole', 'look', 'not whole']),
      }),
    ),
    findings: z.array(z.strictObject({ code: z.enum(codes), severity: z.enum(['stop', 'warn', 'note']), file: text, place: text, found: text, expected: text, remedy: text })),
  })
  .meta({ title: 'gemel receipt', description: 'What a vendor found in a turnover package. No time of day is in it; the printed receipt has a field for it' });

export type Receipt = z.infer<typeof receiptFile>;
export type ReceiptFinding = Receipt['findings'][number];
export type ReceiptShot = Receipt['shots'][number];

/** A receipt as JSON text. */
export function formatReceipt(receipt: Receipt): string {
  return `${JSON.stringify(receipt, null, 2)}\n`;
}

/** The JSON Schema of a receipt. */
export function receiptJsonSchema(): Readonly<Record<string, unknown>> {
  return { ...z.toJSONSchema(receiptFile) };
}

/** What findings amount to: any stop, else any warning. */
export function resultOf(findings: readonly Pick<ReceiptFinding, 'severity'>[]): Receipt['result'] {
  if (findings.some(({ severity }) => severity === 'stop')) return 'not whole';
  return findings.some(({ severity }) => severity === 'warn') ? 'look' : 'whole';
}
