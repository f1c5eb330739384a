/**
 * Readings into the task: opens the model again with measured sizes in place of nominal ones, as a file of its own.
 *
 * It gets an id of its own, so that the tray that was measured keeps comparing with the parts list, and a worn spacer
 * does not become the measure of itself.
 */
import { readModel, withMeasured, type MeasuredSize } from '../../shared/index.ts';
import { openFile } from '../page/models.ts';
import { act, useApp } from '../page/store.ts';

const ENDING = '-measured';
const LONGEST_ID = 48;
const LONGEST_NAME = 80;

/** Open the written model with these sizes; gives back those it cannot take, and then opens nothing. */
export function openMeasured(sizes: readonly MeasuredSize[]): readonly MeasuredSize[] {
  const { opened } = useApp.getState();
  const reading = opened && readModel(opened.text);
  if (reading?.ok !== true) return sizes;
  const { model, refused } = withMeasured(reading.model, sizes);
  if (refused.length > 0) return refused;
  const id = model.id.endsWith(ENDING)
    ? model.id
    : `${model.id.slice(0, LONGEST_ID - ENDING.length).replace(/-+$/, '')}${ENDING}`;
  const name = model.name.includes('as measured')
    ? model.name
    : `${model.name.slice(0, LONGEST_NAME - 13)}, as measured`;
  act.goToPlace(undefined);
  void openFile(new File([JSON.stringify({ ...model, id, name })], `${id}.json`, { type: 'application/json' }));
  return [];
}
