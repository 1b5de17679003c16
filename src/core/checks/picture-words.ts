import type { Finding } from '../material/finding.ts';
import { pxText, stopsText } from './cost.ts';
import { figure } from './evidence.ts';
import { clipName } from './passes.ts';
import type { PictureFault } from './picture-faults.ts';

/** The sentences of what pictures show. */
export function wordingOfPicture(fault: PictureFault): Pick<Finding, 'consequence' | 'remedy'> {
  switch (fault.code) {
    case 'misregistered': {
      const [lead, clip] = [clipName(fault.lead), clipName(fault.clip)];
      if (fault.parallaxPx !== undefined) {
        return {
          consequence: `Laid on ${lead}, parts of ${clip} still lie up to ${pxText(fault.parallaxPx)} apart from others: the camera stood elsewhere, and no shift, scale or turn takes that away.`,
          remedy: `Put the camera back to its marks (height, position) and photograph ${clip} again while the set stands.`,
        };
      }
      const { dx, dy, scale, rotationDeg, largestPx } = fault.found;
      return {
        consequence: `The picture of ${clip} lies up to ${pxText(largestPx)} off that of ${lead} (${pxText(Math.abs(dx))} ${dx < 0 ? 'left' : 'right'}, ${pxText(Math.abs(dy))} ${dy < 0 ? 'up' : 'down'}, ${figure(100 * (scale - 1), 2)} % larger, ${figure(rotationDeg, 2)}° turned): unmoved, edges double along the join; a warp takes it away and softens the picture.`,
        remedy: `Tell the compositor these figures. While the set stands: put the camera back to its marks before the next pass.`,
      };
    }
    case 'exposure-differs':
      return {
        consequence: `${clipName(fault.clip)} is ${stopsText(fault.stops)} against ${clipName(fault.lead)} where both show the same background: the join shows as a step in brightness until it is graded away.`,
        remedy: `Check stop, filters, EI and light against ${clipName(fault.lead)}; if it was the light, wait for it or match it, and photograph the pass again.`,
      };
    case 'colour-differs':
      return {
        consequence: `Against green, ${clipName(fault.clip)} has ${stopsText(fault.redStops)} of red and ${stopsText(fault.blueStops)} of blue compared with ${clipName(fault.lead)}: the join shows as a change of colour until it is graded away.`,
        remedy: `Check white balance, tint and filters against ${clipName(fault.lead)}; if a lamp or the sun changed, match it and photograph the pass again.`,
      };
    case 'camera-moved':
      if (fault.bump !== undefined) {
        return {
          consequence: `The camera of ${clipName(fault.clip)} jumped by ${pxText(fault.bump.px)} at ${fault.bump.frames}: the join tears there unless it is stabilised.`,
          remedy: `Look at these frames; choose another take or photograph the pass again with nobody near the camera.`,
        };
      }
      return {
        consequence: `The camera of ${clipName(fault.clip)} did not stand still (${fault.motion.is === 'moving' ? (fault.motion.move ?? 'moving') : fault.motion.is}, up to ${pxText(fault.motion.fromFirstPx)} from its first frame): a locked-off join drifts unless the pass is stabilised.`,
        remedy: `Lock the head and look for what moves it; photograph the pass again, or name the method if the move was meant.`,
      };
    case 'no-split-line':
      return {
        consequence: `No line, standing or moving, runs between the performers of ${clipName(fault.lead)} and ${clipName(fault.clip)} in ${fault.frames}: there the join cuts through somebody, and one of them must be cut out by hand.`,
        remedy: `Look at these frames: keep the two apart there and photograph the pass again, or plan an element or hand work for them.`,
      };
    case 'person-in-clean-plate': {
      const place = fault.difference === undefined ? `moves in ${clipName(fault.clip)} in ${fault.frames}` : `stands in ${clipName(fault.clip)} that the passes do not show (${fault.difference.width} x ${fault.difference.height} px at ${fault.difference.left}, ${fault.difference.top})`;
      return {
        consequence: `Something ${place}: a person, a prop or a door. Whatever is painted out with this plate brings it into the shot.`,
        remedy: `Look at the plate; clear the frame and photograph it again if somebody was in it.`,
      };
    }
    case 'screen-spill':
      return {
        consequence: `${figure(100 * fault.screen.spillShare, 0)} % of what stands before the screen in ${clipName(fault.clip)} carries its colour, up to ${figure(100 * fault.screen.worstSpill, 0)} %: edges and skin turn towards the screen's colour and need correction.`,
        remedy: `Move the performer away from the screen or flag its light, then photograph the element again.`,
      };
    case 'screen-uneven':
      return {
        consequence: `The screen in ${clipName(fault.clip)} is ${figure(fault.screen.evenness.stops, 2)} stops from its darkest to its brightest part: one key does not hold for all of it.`,
        remedy: `Even the light on the screen out, then photograph the element again.`,
      };
    case 'frozen-frames':
      return {
        consequence: `${clipName(fault.clip)} shows one and the same picture in ${fault.frames}: the action stands still there and jumps on.`,
        remedy: `Compare with the camera original; copy the clip again, or use another take.`,
      };
    case 'black-frames':
      return {
        consequence: `${clipName(fault.clip)} is black without any picture ${fault.whole ? 'from its first frame to its last' : `in ${fault.frames}`}.`,
        remedy: fault.whole ? `Look at the camera (cap, iris, card) and photograph the pass again.` : `Compare with the camera original; copy the clip again, or use another take.`,
      };
  }
  return fault satisfies never;
}
