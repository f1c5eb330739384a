/**
 * The model as its file has it, whatever variant is open: what variants are compared with.
 */
import { readModel, type Analysis, type LinkageModel } from '../../shared/index.ts';

/** The base model of an analysis: read again from the open text where a variant has been applied. */
export function baseModel(analysis: Analysis, text: string | undefined): LinkageModel | undefined {
  if (analysis.variant === undefined) return analysis.model;
  const reading = text === undefined ? undefined : readModel(text);
  return reading?.ok === true ? reading.model : undefined;
}
