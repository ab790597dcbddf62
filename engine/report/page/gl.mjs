// As little WebGL as the picture needs: one program that lights triangles from above and in front, both sides alike.

const VERTEX = `
attribute vec3 place; attribute vec3 normal; attribute vec4 colour;
uniform mat4 clip_from_scene; uniform vec3 back;
varying vec4 shown;
void main() {
  gl_Position = clip_from_scene * vec4(place, 1.0);
  float facing = length(normal) < 0.5 ? 1.0
    : 0.7 + 0.2 * abs(normal.z) + 0.15 * abs(dot(normal, back));
  shown = vec4(colour.rgb * min(facing, 1.05), colour.a);
}`;
const FRAGMENT = `
precision mediump float;
varying vec4 shown;
void main() { gl_FragColor = vec4(shown.rgb * shown.a, shown.a); }`;

function compiled(gl, kind, text) {
  const shader = gl.createShader(kind);
  gl.shaderSource(shader, text);
  gl.compileShader(shader);
  return shader;
}

// Nothing where this browser or machine has no WebGL.
export function makeRenderer(canvas) {
  const gl = canvas.getContext("webgl", {antialias: true, alpha: true, preserveDrawingBuffer: true});
  if (!gl) return null;
  const program = gl.createProgram();
  gl.attachShader(program, compiled(gl, gl.VERTEX_SHADER, VERTEX));
  gl.attachShader(program, compiled(gl, gl.FRAGMENT_SHADER, FRAGMENT));
  gl.linkProgram(program);
  if (!gl.getProgramParameter(program, gl.LINK_STATUS)) return null;
  const uniforms = {matrix: gl.getUniformLocation(program, "clip_from_scene"), back: gl.getUniformLocation(program, "back")};
  const inputs = [["place", 3, 0], ["normal", 3, 12], ["colour", 4, 24]].map(([name, size, offset]) =>
    ({at: gl.getAttribLocation(program, name), size, offset}));
  const STRIDE = 40;

  // A mesh on the graphics card. `lines`: pairs of vertices; else triangles.
  function upload(mesh, {lines = false, glass = false} = {}) {
    const buffer = gl.createBuffer();
    gl.bindBuffer(gl.ARRAY_BUFFER, buffer);
    gl.bufferData(gl.ARRAY_BUFFER, mesh.data(), gl.STATIC_DRAW);
    return {buffer, count: mesh.count(), lines, glass};
  }

  function draw(camera, parts) {
    gl.viewport(0, 0, canvas.width, canvas.height);
    gl.clearColor(0, 0, 0, 0);
    gl.clear(gl.COLOR_BUFFER_BIT | gl.DEPTH_BUFFER_BIT);
    gl.enable(gl.DEPTH_TEST);
    gl.depthFunc(gl.LEQUAL);
    gl.enable(gl.BLEND);
    gl.blendFunc(gl.ONE, gl.ONE_MINUS_SRC_ALPHA);
    gl.useProgram(program);
    gl.uniformMatrix4fv(uniforms.matrix, false, camera.matrix);
    gl.uniform3fv(uniforms.back, camera.back);
    for (const part of parts) {
      if (!part || !part.count) continue;
      gl.bindBuffer(gl.ARRAY_BUFFER, part.buffer);
      for (const {at, size, offset} of inputs) {
        gl.enableVertexAttribArray(at);
        gl.vertexAttribPointer(at, size, gl.FLOAT, false, STRIDE, offset);
      }
      // What can be seen through hides nothing behind it.
      gl.depthMask(!part.glass);
      gl.drawArrays(part.lines ? gl.LINES : gl.TRIANGLES, 0, part.count);
    }
    gl.depthMask(true);
  }
  return {upload, draw, drop: (part) => part && gl.deleteBuffer(part.buffer)};
}
