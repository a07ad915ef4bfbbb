/** What a new piece can start from, in a maker's words. */
export const shapes: Record<string, { name: string; says: string }> = {
  closed: { name: 'Bent case, closed', says: 'one strip of veneered plywood bent round four corners' },
  u: { name: 'Bent case, open below', says: 'top and both sides from one strip, bent at two corners' },
  chest: { name: 'Chest of drawers', says: 'flat sides, top and bottom, a frame, drawers' },
  shelf: { name: 'Set of shelves', says: 'flat sides, fixed and loose shelves' },
  blank: { name: 'Nothing', says: 'the fewest lines a piece can have' },
}

/** A shape the pages know no words for goes by its own name. */
export const shapeOf = (key: string) => shapes[key] ?? { name: key, says: '' }
