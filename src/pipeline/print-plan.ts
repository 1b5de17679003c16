import { formatPlan } from '../steps/turnover/plan-turnover.ts';
import type { TurnoverOutcome } from './turnover-day.ts';

/** What `--dry-run` prints. */
export function formatPlanned({ plan }: TurnoverOutcome): string {
  return formatPlan(plan);
}
