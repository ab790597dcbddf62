// Places for words on a drawing, so that none lies on another or on a mark.

export function makeLabels(ctx, bounds) {
  const taken = [];
  const free = (box) => box.x >= bounds.x && box.x + box.width <= bounds.x + bounds.width && box.y >= bounds.y &&
    box.y + box.height <= bounds.y + bounds.height && taken.every((other) => box.x >= other.x + other.width ||
      other.x >= box.x + box.width || box.y >= other.y + other.height || other.y >= box.y + box.height);

  function write(text, box, style) {
    taken.push(box);
    ctx.lineWidth = 3.5;
    ctx.lineJoin = "round";
    ctx.strokeStyle = style.halo;
    ctx.fillStyle = style.colour;
    ctx.textAlign = "center";
    ctx.textBaseline = "middle";
    const x = box.x + box.width / 2, y = box.y + box.height / 2;
    ctx.strokeText(text, x, y);
    ctx.fillText(text, x, y);
    return true;
  }
  const sized = (text, size) => ({width: ctx.measureText(text).width + 6, height: size + 4});

  return {
    blockRect: (x, y, width, height) => taken.push({x, y, width, height}),
    block: (x, y, reach) => taken.push({x: x - reach, y: y - reach, width: 2 * reach, height: 2 * reach}),

    // Beside a thing of that reach around (x, y): right, left, above, below, then the corners, then further off.
    beside(text, x, y, reach, style) {
      ctx.font = style.font;
      const {width, height} = sized(text, style.size);
      for (const far of [0, 10, 22]) {
        const [dx, dy] = [reach + 2 + far + width / 2, reach + 1 + far + height / 2];
        for (const [a, b] of [[1, 0], [-1, 0], [0, -1], [0, 1], [1, -1], [-1, -1], [1, 1], [-1, 1]]) {
          const box = {x: x + a * dx - width / 2, y: y + b * dy - height / 2, width, height};
          if (free(box)) return write(text, box, style);
        }
      }
      return false;
    },

    // With its middle at (x, y), where that is free.
    at(text, x, y, style) {
      ctx.font = style.font;
      const {width, height} = sized(text, style.size);
      const box = {x: x - width / 2, y: y - height / 2, width, height};
      return free(box) && write(text, box, style);
    },
  };
}
