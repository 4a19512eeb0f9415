/** Words of the build-the-rig guide. Lengths and limits without a source are tool defaults. */
export const GUIDE_WORDS = {
  title: 'How to build the rig',
  intro:
    'Two switches that close when a compression and a breath really happen, and not before. This is a plan: we have not built it ourselves. The rig check shows whether yours is good.',
  print: 'Print this page',
  back: 'Back to Set-up',
} as const;

export type GuideDrawing = 'chest' | 'grip' | 'line' | 'bag' | 'wiring' | 'room';
export type GuideSection = {
  title: string;
  drawings: readonly { name: GuideDrawing; caption: string }[];
  points: readonly string[];
};

export const GUIDE_SECTIONS: readonly GuideSection[] = [
  {
    title: 'Before anything else',
    drawings: [],
    points: [
      'Write TRAINING ONLY on every bag, mask and line that was altered. None of them ever goes back among things for patients.',
      'Count them out before the drill and count them in after it.',
      'Air only: no oxygen, no gas from the wall.',
      'Nothing near the building’s wiring. A switch only bridges two contacts of a game pad or keyboard, which carry the few volts of the USB lead and no more.',
      'Wipe manikin, bag and switches between pairs. Gloves stay on.',
    ],
  },
  {
    title: 'The chest switch: in the manikin, under the breastbone plate',
    drawings: [
      {
        name: 'chest',
        caption: 'Cut across the chest. The plunger’s way down to the switch is near one third of the depth.',
      },
      {
        name: 'grip',
        caption:
          'Why no mat under the back: the fingers behind the back carry the force, and little of it reaches the table.',
      },
    ],
    points: [
      'Fix a small push switch on the back plate inside the manikin, and a plunger under the breastbone plate above it.',
      'Measure the chest from front to back at the breastbone. The switch is to close near one third of that: for a chest of 9 cm, near 3 cm.',
      'Set it with shims, thin sheets between plunger and switch: a thicker shim closes it sooner, a thinner one later.',
      'It has to open again while thumbs or fingers still rest on the chest. If it does not, the shim is too thick or the manikin’s spring is tired.',
      'Not a mat under the back. Two thumbs with the hands around the chest press it between thumbs and fingers and put little force into the table; two fingers press it onto the table. A mat would make the techniques differ by what it is, not by what the pair does.',
    ],
  },
  {
    title: 'The airway switch: closed only when a breath gets through',
    drawings: [
      { name: 'line', caption: 'A low-pressure air switch on a T-piece in the lung line.' },
      { name: 'bag', caption: 'Or a flat button on the bag, where the fingers end a gentle squeeze.' },
    ],
    points: [
      'Better: a low-pressure air switch, teed into the line between the manikin’s head and its lung. A leaking mask or a bent neck then gives no breath, as it should.',
      'Set it to close when the chest just rises. Keep its branch of the line short: long soft line closes it late.',
      'Or: a flat button on the bag, under the fingertips at the end of a gentle squeeze. It knows of the squeeze only, not of the breath: look at the chest.',
      'Either has to open when the bag is let go and still held.',
    ],
  },
  {
    title: 'To the computer: the contacts of two buttons',
    drawings: [
      {
        name: 'wiring',
        caption: 'Each switch bridges the two contacts of one button. Nothing else is connected.',
      },
    ],
    points: [
      'Open an old game pad or keyboard, unplugged, and solder one lead to the two contacts of each of two buttons; or take a plain two-button board with terminals. One pad for both switches is best: both then have the same delay.',
      'Leads of 2 m, so that the pair can work from the foot end, the head end or either side. A plug at the manikin’s end saves the solder when somebody trips.',
      'Two foot-pedals of one kind often send the same key. Set one of them to another key with its maker’s program, or bind them through one pad or keyboard.',
      'A pressure pad or a trigger works too, as an axis: it counts as down from half its way, and as up again below a third.',
    ],
  },
  {
    title: 'In the room',
    drawings: [{ name: 'room', caption: 'From above. Leads leave at the foot and run under the table.' }],
    points: [
      'The manikin on a firm surface at waist height.',
      'Leads leave at the foot and go down at the table’s edge: the way around the head end stays free, since that is where people change places.',
      'Tape down what crosses the floor.',
    ],
  },
  {
    title: 'Every day',
    drawings: [],
    points: [
      'In Set-up, bind both switches by pressing them.',
      'Choose the manikin rig and check it, with gloves on: about a minute. Until it is passed, drills are recorded as rhythm drills.',
      'If a step is not passed, the check says which way to set the switch.',
    ],
  },
];
