import type { ReactElement, ReactNode } from 'react';
import type { GuideDrawing } from '../../machines/words/rig-guide.ts';

/** Our own drawings for the guide, in units of a 400 by 220 sheet. Each is an image whose words are its caption. */
export function RigDrawing({ name, label }: { name: GuideDrawing; label: string }): ReactElement {
  return (
    <svg className="rig-drawing" viewBox="0 0 400 220" role="img" aria-label={label}>
      {DRAWINGS[name]}
    </svg>
  );
}

/** A word beside what it names, with a thin line to it. */
function Name({ at, to, end, children }: NameProps): ReactElement {
  const [x, y] = at;
  return (
    <>
      <line className="thin" x1={end ? x + 4 : x - 4} y1={y - 4} x2={to[0]} y2={to[1]} />
      <text x={x} y={y} textAnchor={end ? 'end' : 'start'}>
        {children}
      </text>
    </>
  );
}
type Point = readonly [number, number];
type NameProps = { at: Point; to: Point; end?: boolean; children: ReactNode };

const CHEST = (
  <>
    <path className="line" d="M112 190 C88 130 120 60 210 52 C300 60 332 130 308 190" />
    <rect className="solid" x="162" y="62" width="96" height="9" />
    <rect className="line" x="204" y="71" width="12" height="42" />
    <rect className="shim" x="198" y="113" width="24" height="8" />
    <rect className="line" x="203" y="167" width="14" height="7" />
    <rect className="solid" x="190" y="174" width="40" height="16" />
    <path className="line" d="M175 71 l-10 15 20 16 -20 16 20 16 -20 16 20 16 -10 24" />
    <path className="line" d="M245 71 l10 15 -20 16 20 16 -20 16 20 16 -20 16 10 24" />
    <rect className="line" x="100" y="190" width="220" height="10" />
    <path
      className="thin"
      d="M62 54 H150 M62 100 H82 M72 54 V190 M62 190 H98 M140 121 H196 M140 167 H200 M150 121 V167"
    />
    <text x="58" y="82" textAnchor="end">
      one third
    </text>
    <text x="58" y="150" textAnchor="end">
      depth
    </text>
    <text x="146" y="149" textAnchor="end" className="small">
      ⅓
    </text>
    <Name at={[290, 40]} to={[258, 64]}>
      breastbone plate
    </Name>
    <Name at={[338, 94]} to={[217, 94]}>
      plunger
    </Name>
    <Name at={[338, 124]} to={[223, 118]}>
      shim
    </Name>
    <Name at={[338, 172]} to={[231, 181]}>
      switch
    </Name>
    <text x="210" y="215" textAnchor="middle">
      back plate
    </text>
  </>
);

const GRIP = (
  <>
    <ellipse className="line" cx="200" cy="100" rx="96" ry="56" />
    <path className="hand" d="M120 60 C140 30 176 22 192 42" />
    <path className="hand" d="M280 60 C260 30 224 22 208 42" />
    <path className="hand" d="M110 70 C92 130 130 168 190 164" />
    <path className="hand" d="M290 70 C308 130 270 168 210 164" />
    <path className="force" d="M200 48 V76 M192 68 L200 78 208 68" />
    <path className="force" d="M200 152 V124 M192 132 L200 122 208 132" />
    <path className="mat" d="M110 184 H290" />
    <path className="thin" d="M40 196 H360" />
    <path className="cross" d="M300 176 L318 192 M318 176 L300 192" />
    <Name at={[316, 40]} to={[262, 36]}>
      thumbs
    </Name>
    <Name at={[322, 140]} to={[292, 134]}>
      fingers
    </Name>
    <Name at={[84, 180]} to={[110, 184]} end>
      mat
    </Name>
    <text x="50" y="212">
      table
    </text>
  </>
);

const LINE = (
  <>
    <circle className="line" cx="70" cy="100" r="42" />
    <path className="line" d="M58 64 L50 40 H90 L82 64" />
    <path className="tube" d="M110 108 H290" />
    <path className="tube" d="M200 108 V162" />
    <path className="line" d="M290 84 C350 70 376 110 340 140 C310 150 292 136 290 132 Z" />
    <rect className="solid" x="180" y="162" width="40" height="20" />
    <path className="thin" d="M200 182 V206 H270" />
    <Name at={[110, 36]} to={[88, 46]}>
      mask and bag
    </Name>
    <text x="152" y="100" textAnchor="middle">
      lung line
    </text>
    <Name at={[226, 76]} to={[202, 104]}>
      T-piece
    </Name>
    <text x="332" y="66" textAnchor="middle">
      lung
    </text>
    <Name at={[168, 176]} to={[180, 172]} end>
      air switch
    </Name>
    <text x="276" y="210">
      lead
    </text>
  </>
);

const BAG = (
  <>
    <path
      className="line"
      d="M70 110 C90 50 270 44 310 100 C330 106 330 116 310 122 C270 176 90 172 70 110 Z"
    />
    <path className="line" d="M70 98 H40 L24 76 V146 L40 122 H70" />
    <rect className="solid" x="168" y="150" width="54" height="8" rx="3" />
    <path className="hand" d="M160 54 C166 32 190 30 200 56" />
    <path className="hand" d="M176 190 V167 M195 194 V167 M214 190 V167" />
    <path className="thin" d="M222 154 C270 170 300 180 356 176" />
    <Name at={[250, 32]} to={[200, 38]}>
      thumb
    </Name>
    <Name at={[252, 206]} to={[219, 188]}>
      fingertips
    </Name>
    <Name at={[130, 198]} to={[170, 158]} end>
      flat button
    </Name>
    <text x="326" y="168">
      lead
    </text>
    <text x="24" y="64">
      mask
    </text>
    <text className="label" x="190" y="112" textAnchor="middle">
      TRAINING ONLY
    </text>
  </>
);

const WIRING = (
  <>
    <rect className="solid" x="30" y="46" width="40" height="18" />
    <rect className="solid" x="30" y="142" width="40" height="18" />
    <path className="line" d="M70 51 C130 30 160 80 232 76 M70 59 C130 44 160 92 232 84" />
    <path className="line" d="M70 147 C130 170 160 118 232 122 M70 155 C130 182 160 130 232 130" />
    <rect className="line" x="232" y="52" width="96" height="104" rx="8" />
    <circle className="line" cx="270" cy="80" r="11" />
    <circle className="line" cx="270" cy="126" r="11" />
    <path className="tube" d="M328 104 H376" />
    <text x="30" y="38">
      chest switch
    </text>
    <text x="30" y="180">
      airway switch
    </text>
    <text x="150" y="108" textAnchor="middle">
      2 m
    </text>
    <text x="280" y="42" textAnchor="middle">
      pad or keyboard
    </text>
    <text x="288" y="85">
      one
    </text>
    <text x="288" y="131">
      two
    </text>
    <text x="352" y="96" textAnchor="middle">
      USB
    </text>
  </>
);

const ROOM = (
  <>
    <rect className="line" x="90" y="58" width="220" height="96" />
    <circle className="line" cx="136" cy="106" r="17" />
    <path className="line" d="M153 92 H236 V120 H153 M236 96 L268 90 M236 116 L268 122" />
    <circle className="person" cx="62" cy="106" r="14" />
    <circle className="person" cx="338" cy="92" r="14" />
    <circle className="faint" cx="180" cy="34" r="14" />
    <circle className="faint" cx="180" cy="178" r="14" />
    <path className="tube" d="M236 110 C270 110 290 124 300 154 C304 180 320 190 372 190" />
    <text x="2" y="142">
      head end
    </text>
    <text x="350" y="66" textAnchor="middle">
      foot end
    </text>
    <text x="202" y="39">
      side
    </text>
    <text x="202" y="184">
      side
    </text>
    <text x="372" y="212" textAnchor="end">
      leads, to the station
    </text>
    <path className="thin dashed" d="M62 130 C62 200 130 206 164 190 M62 82 C66 22 130 14 164 28" />
    <text x="16" y="212">
      this way stays free
    </text>
  </>
);

const DRAWINGS: Record<GuideDrawing, ReactElement> = {
  chest: CHEST,
  grip: GRIP,
  line: LINE,
  bag: BAG,
  wiring: WIRING,
  room: ROOM,
};
