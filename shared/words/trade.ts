/**
 * Words of the trade, for who meets one here for the first time: each in a sentence, with what else it is called and
 * what of this program tells of it. What the words mean is common practice, no source.
 */

/** What of the program tells of a word. */
export type TradeSubject = 'marks' | 'torque' | 'order' | 'access' | 'tray' | 'cautions' | 'mistakes' | 'travel';

/** One word. */
export interface TradeWord {
  readonly word: string;
  /** Other names a person may look for. */
  readonly also: string;
  readonly text: string;
  readonly of: TradeSubject;
}

const said = (of: TradeSubject, words: readonly (readonly [string, string, string])[]): TradeWord[] =>
  words.map(([word, also, text]) => ({ word, also, text, of }));

/** All of them, subject by subject. */
export const TRADE_WORDS: readonly TradeWord[] = [
  ...said('marks', [
    ['drive side', 'right chain side D', 'The side of the bike with the chain: the rider’s right.'],
    ['non-drive side', 'left brake side N', 'The side without the chain: the rider’s left.'],
    [
      'small face',
      'facing direction which way round',
      'The end of a tapered spacer that touches the least. It goes to the bearing’s inner ring.',
    ],
    [
      'large face',
      'facing direction which way round',
      'The wide end of a tapered spacer. It goes to the arm or the frame, never to the bearing.',
    ],
    ['inner ring', 'race', 'The ring of a bearing that sits on the axle. The clamp passes through it.'],
    [
      'outer ring',
      'race',
      'The ring of a bearing that sits in its bore. A spacer that touches it makes the pivot stiff.',
    ],
    ['seal', 'shield', 'The thin cover between the two rings of a bearing. Nothing may rub on it.'],
    [
      'seat',
      'bore pocket land',
      'The place a bearing is pressed into, or the face a part bears on. It has to be clean.',
    ],
    ['shim', 'thin washer', 'A thin washer that makes up a small gap along the axle.'],
    [
      'tapered spacer',
      'cone top hat',
      'A spacer with a small and a large face. Turned round it touches the wrong ring.',
    ],
    ['row', 'stack order of parts', 'All the parts on one axle, told from the non-drive to the drive side.'],
  ]),
  ...said('torque', [
    [
      'torque',
      'tightness newton metre',
      'How hard a screw is turned, in newton metres. The card of each pivot says how much.',
    ],
    ['clamp', 'preload clamping force', 'The force that holds the parts of a row together once the axle is tight.'],
    [
      'threadlocker',
      'locking compound glue',
      'A liquid that keeps a thread from coming loose. New every time the thread is opened.',
    ],
    [
      'anti-seize',
      'paste',
      'A paste that keeps two metals from locking together. It makes the same torque pull harder.',
    ],
    [
      'left-hand thread',
      'reverse thread anticlockwise',
      'A thread that tightens anticlockwise. The card warns where there is one.',
    ],
    ['receiver', 'nut thread', 'What takes the thread of the axle: a nut, or a thread cut into the frame or an arm.'],
    ['tolerance', 'spread of parts limits', 'How much a size may differ from what is written and still be right.'],
  ]),
  ...said('order', [
    [
      'press fit',
      'interference',
      'A bearing a little larger than its bore. It goes in under a press and stays by itself.',
    ],
    ['drift', 'punch driver', 'A rod that drives a bearing out of its bore, evenly round, a little at a time.'],
    ['blind pull', 'puller extractor', 'Taking a bearing out from the one side that can be reached.'],
    ['bench', 'workbench off the bike', 'The workbench: what is put together there goes onto the bike as one piece.'],
    ['stand', 'repair stand', 'What holds the bike while you work. Clamp the seatpost, never a frame tube.'],
  ]),
  ...said('access', [
    ['access', 'get at reach remove', 'The least that has to come off before a part can be taken out.'],
  ]),
  ...said('tray', [
    [
      'calliper',
      'vernier gauge measure',
      'The tool that measures a loose part. Its accuracy says which parts it can tell apart.',
    ],
    ['mat', 'paper outlines', 'A printed sheet with the outline of each part at its true size.'],
  ]),
  ...said('mistakes', [
    ['mistake', 'wrong assembly error', 'A part left out, turned round, swapped or put in the wrong place.'],
    ['play', 'knock loose rattle', 'Movement that should not be there: the row is not clamped, or a bearing is worn.'],
    [
      'binding',
      'stiff drags notchy',
      'A pivot that turns hard: something rubs, or a bearing is pinched from the side.',
    ],
  ]),
  ...said('travel', [
    ['travel', 'stroke suspension', 'How far the rear wheel moves from fully out to fully in.'],
    ['linkage', 'rocker swingarm links', 'The arms between frame, wheel and shock that turn on the pivots.'],
    ['shock', 'damper spring', 'The spring and damper of the linkage. Let its air out before an arm is freed.'],
    ['stiction', 'stick', 'What keeps the linkage from moving until enough force is on it.'],
  ]),
  ...said('cautions', [
    ['air', 'pressure shock pump', 'An air shock is let down before an arm is freed: the linkage can jump.'],
    [
      'carbon',
      'composite',
      'Carbon cracks where it is clamped or pressed too hard. Only the torque written here, and clean faces.',
    ],
  ]),
];
