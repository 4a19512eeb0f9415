import type { CallName, Guidance, Roles, Stance, Technique } from '../journal.ts';
import { nextLogNormal, type RandomState } from '../statistics/random.ts';
import type { Ms } from '../units.ts';
import { drawPause, type HandoverKind, type HandoverModel, pickKind } from './handovers.ts';
import type { ScriptedCall } from './plans.ts';

/** How things stand: who does what, and what is heard. */
export type Situation = {
  roles: Roles;
  technique: Technique;
  stance: Stance;
  guidance: Guidance;
  cycleMs: Ms;
};

/** How a cycle ended: drill ms, the last compression's onset and release, and when nobody's hands are busy any more. */
export type CycleEnd = { lastOnMs: Ms; lastReleaseMs: Ms; handsFreeMs: Ms; plannedMs: Ms; shiftMs: Ms };

/** How the next cycle begins: at which tick, and why not simply as the next one. */
export type Start = { tickMs: Ms; why: 'goes on' | 'restart' | 'handover'; handover: OpenHandover | null };
type OpenHandover = { reasons: CallName[]; calledMs: Ms; kind: HandoverKind; isRoleChange: boolean };

/** A call nearer than this to the next compression is heard too late to stop it. Tool default, a long simple reaction. */
const REACTION_MS: Ms = 300;
/** From begin, resume or checked to the first compression. Tool default. */
const RESTART = { medianMs: 1200, sigma: 0.25 } as const;

/**
 * Reads the script to the pair. They finish the cycle in which a call falls, then do what was called.
 * Calls that cancel each other out, and `undo`, are announced but not acted on as such.
 */
export class Instructor {
  readonly made: ScriptedCall[] = [];
  readonly situation: Situation;
  private readonly script: readonly ScriptedCall[];
  private readonly model: HandoverModel;
  private readonly random: RandomState;
  private place = 0;
  private isStopped = true;
  private handoversSoFar = 0;

  constructor(
    script: readonly ScriptedCall[],
    situation: Situation,
    model: HandoverModel,
    random: RandomState,
  ) {
    this.script = script;
    this.situation = { ...situation };
    this.model = model;
    this.random = random;
  }

  /** When and how the next cycle begins; null when there is none. `end` is null before the first. */
  after(end: CycleEnd | null): Start | null {
    let start: Start = {
      tickMs: end === null ? 0 : end.plannedMs + end.shiftMs,
      why: 'goes on',
      handover: null,
    };
    for (;;) {
      const call = this.script[this.place];
      if (call === undefined) break;
      if (!this.isStopped && call.atMs > start.tickMs - REACTION_MS) break;
      this.place += 1;
      this.made.push(call);
      if (call.call === 'finish') return null;
      start = this.follow(call, start, end);
    }
    return this.isStopped ? null : start;
  }

  private follow(call: ScriptedCall, start: Start, end: CycleEnd | null): Start {
    switch (call.call) {
      case 'rest':
      case 'check':
        this.isStopped = true;
        return { ...start, handover: null };
      case 'begin':
      case 'resume':
      case 'checked':
        if (!this.isStopped) return start;
        this.isStopped = false;
        return {
          tickMs: call.atMs + nextLogNormal(this.random, RESTART.medianMs, RESTART.sigma),
          why: 'restart',
          handover: null,
        };
      default:
        if (!this.change(call) || this.isStopped || start.why === 'restart' || end === null) return start;
        return this.handOver(call, start, end);
    }
  }

  /** Puts a call into effect; true when it asks for new hands, another technique or another place. */
  private change(call: ScriptedCall): boolean {
    const now = this.situation;
    switch (call.call) {
      case 'swap':
        now.roles = { compressor: now.roles.ventilator, ventilator: now.roles.compressor };
        return true;
      case 'technique': {
        const isNew = now.technique !== call.technique;
        now.technique = call.technique;
        return isNew;
      }
      case 'stance': {
        const isNew = now.stance !== call.stance;
        now.stance = call.stance;
        return isNew;
      }
      case 'guidance':
        now.guidance = call.guidance;
        return false;
      case 'tempo':
        now.cycleMs = call.cycleMs;
        return false;
      default:
        return false;
    }
  }

  private handOver(call: ScriptedCall, start: Start, end: CycleEnd): Start {
    const isRoleChange = call.call === 'swap';
    const open = start.handover;
    const kind = open?.kind ?? pickKind(this.model, this.handoversSoFar++, this.random);
    const { cycleMs } = this.situation;
    const pauseMs = drawPause(this.model, kind, call.call, cycleMs, this.random);
    // A call in the breath's place finds the hands just let go; one in a stall finds them idle for long.
    const fromMs = Math.max(end.lastReleaseMs, call.atMs - cycleMs / 2);
    const readyMs =
      kind === 'seamless'
        ? Math.max(end.plannedMs, call.atMs + REACTION_MS)
        : Math.max(fromMs + pauseMs, end.handsFreeMs);
    return {
      tickMs: open === null ? readyMs : Math.max(start.tickMs, readyMs),
      why: 'handover',
      handover: {
        reasons: [...(open?.reasons ?? []), call.call],
        calledMs: open?.calledMs ?? call.atMs,
        kind,
        isRoleChange: isRoleChange || (open?.isRoleChange ?? false),
      },
    };
  }
}
