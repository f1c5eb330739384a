/** The commands of the command line. */
import { askCommand } from './ask.ts';
import { checkCommand } from './check.ts';
import { exportCommand } from './export.ts';
import { newCommand } from './new.ts';
import { orderCommand } from './order.ts';
import { accessCommand } from './access.ts';
import { sectionCommand } from './section.ts';
import { mistakesCommand } from './mistakes.ts';
import { sheetCommand } from './sheet.ts';
import { feltCommand } from './felt.ts';
import { sortCommand } from './sort.ts';
import { torqueCommand } from './torque.ts';
import { travelCommand } from './travel.ts';
import type { Command, Ending } from './command.ts';

/** Every command, in the order of the help; a new one is one more name here. */
export const COMMANDS: readonly Command<Ending>[] = [
  checkCommand,
  sectionCommand,
  mistakesCommand,
  feltCommand,
  orderCommand,
  accessCommand,
  sheetCommand,
  exportCommand,
  sortCommand,
  torqueCommand,
  travelCommand,
  newCommand,
  askCommand,
];
