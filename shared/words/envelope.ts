/**
 * Words for a file of what was kept that was not taken: what to do, then why.
 */
import type { EnvelopeTrouble } from '../envelope/envelope.ts';

/** Why a file was not taken, as one or two sentences. */
export function wordEnvelopeTrouble(trouble: EnvelopeTrouble): string {
  switch (trouble.code) {
    case 'too-large':
      return `Open a smaller file: this one has ${trouble.met}, and Axlewright takes ${trouble.allowed}.`;
    case 'not-json':
      return `Save the file again where it came from: it breaks off or was changed at ${trouble.path}. Found: ${trouble.met}. Allowed: ${trouble.allowed}.`;
    case 'no-envelope':
      return 'Open a file that Axlewright has saved: this one does not say its kind, schema, app and body.';
    case 'unknown-kind':
      return `Open it where it came from: it is a file of the kind “${trouble.met}”, which this Axlewright does not know.`;
    case 'newer':
      return `Get the newer Axlewright (${trouble.app}) first: it wrote this file, and this one would lose what it does not know.`;
    case 'too-old':
      return `Open it in the Axlewright that wrote it (${trouble.app}): this one no longer reads a file that old.`;
    case 'bad-body':
      return `Save the file again where it came from: ${trouble.path} is not as Axlewright writes it${
        trouble.more > 0 ? `, nor are ${trouble.more} more places` : ''
      }. Nothing was taken from it.`;
  }
}
