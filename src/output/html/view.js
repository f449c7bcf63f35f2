
// The vessel in space: the model of the page, drawn by WebGL. One named node a piece; see the named rows of the tables.
(function () {
  var VERTEX = 'attribute vec3 position; attribute vec3 normal; uniform mat4 seen; uniform vec3 shift;' +
    'varying vec3 place; varying vec3 facing;' +
    'void main() { place = position + shift; facing = normal; gl_Position = seen * vec4(place, 1.0); }';
  var FRAGMENT = 'precision highp float; varying vec3 place; varying vec3 facing; uniform vec3 color; uniform vec3 light;' +
    'uniform vec4 cut; uniform float lines; uniform float inside;' +
    'void main() { if (dot(vec4(place, 1.0), cut) > 0.0) discard;' +
    'if (lines > 0.5) { gl_FragColor = vec4(color, 1.0); return; }' +
    // Where the saw opens a closed solid its inside is seen: painted flat, that is the cut face.
    'if (!gl_FrontFacing) { gl_FragColor = vec4(color * inside, 1.0); return; }' +
    'vec3 n = normalize(facing); float lit = 0.52 + 0.48 * max(dot(n, light), 0.0) + 0.12 * n.y;' +
    'gl_FragColor = vec4(min(color * lit, 1.0), 1.0); }';

  // ---- glTF ----

  function bytesOf(text) {
    var letters = window.atob(text), bytes = new Uint8Array(letters.length);
    for (var i = 0; i < letters.length; i++) { bytes[i] = letters.charCodeAt(i); }
    return bytes;
  }
  function times(a, b) {
    var c = new Array(16);
    for (var i = 0; i < 4; i++) {
      for (var j = 0; j < 4; j++) {
        c[4 * j + i] = a[i] * b[4 * j] + a[4 + i] * b[4 * j + 1] + a[8 + i] * b[4 * j + 2] + a[12 + i] * b[4 * j + 3];
      }
    }
    return c;
  }
  var UNIT = [1, 0, 0, 0, 0, 1, 0, 0, 0, 0, 1, 0, 0, 0, 0, 1];
  function matrixOf(node) {
    if (node.matrix) { return node.matrix; }
    var t = node.translation || [0, 0, 0], r = node.rotation || [0, 0, 0, 1], s = node.scale || [1, 1, 1];
    var x = r[0], y = r[1], z = r[2], w = r[3];
    return [
      (1 - 2 * (y * y + z * z)) * s[0], 2 * (x * y + z * w) * s[0], 2 * (x * z - y * w) * s[0], 0,
      2 * (x * y - z * w) * s[1], (1 - 2 * (x * x + z * z)) * s[1], 2 * (y * z + x * w) * s[1], 0,
      2 * (x * z + y * w) * s[2], 2 * (y * z - x * w) * s[2], (1 - 2 * (x * x + y * y)) * s[2], 0,
      t[0], t[1], t[2], 1
    ];
  }
  // Pieces as {name, points, normals, faces, color}, in the place where they belong, y upward.
  function pieces(bytes) {
    var data = new DataView(bytes.buffer, bytes.byteOffset, bytes.byteLength);
    if (data.getUint32(0, true) !== 0x46546c67) { throw new Error('no binary glTF'); }
    var json = null, body = 0, at = 12;
    while (at + 8 <= bytes.length) {
      var long = data.getUint32(at, true), kind = data.getUint32(at + 4, true);
      if (kind === 0x4e4f534a) { json = JSON.parse(new TextDecoder().decode(bytes.subarray(at + 8, at + 8 + long))); }
      if (kind === 0x004e4942) { body = at + 8; }
      at += 8 + long;
    }
    function numbers(index) {
      var accessor = json.accessors[index], view = json.bufferViews[accessor.bufferView];
      var wide = accessor.type === 'VEC3' ? 3 : 1;
      var size = { 5126: 4, 5125: 4, 5123: 2, 5121: 1 }[accessor.componentType];
      var step = view.byteStride || wide * size;
      var first = body + (view.byteOffset || 0) + (accessor.byteOffset || 0);
      var out = accessor.componentType === 5126 ? new Float32Array(accessor.count * wide) : new Uint32Array(accessor.count * wide);
      for (var i = 0; i < accessor.count; i++) {
        for (var j = 0; j < wide; j++) {
          var p = first + i * step + j * size;
          out[i * wide + j] = accessor.componentType === 5126 ? data.getFloat32(p, true)
            : size === 4 ? data.getUint32(p, true) : size === 2 ? data.getUint16(p, true) : data.getUint8(p);
        }
      }
      return out;
    }
    var found = [];
    function walk(index, above) {
      var node = json.nodes[index], m = times(above, matrixOf(node));
      if (node.mesh !== undefined) {
        json.meshes[node.mesh].primitives.forEach(function (one) {
          var points = numbers(one.attributes.POSITION), count = points.length / 3;
          var faces = one.indices === undefined ? null : numbers(one.indices);
          if (!faces) { faces = new Uint32Array(count); for (var i = 0; i < count; i++) { faces[i] = i; } }
          for (var p = 0; p < points.length; p += 3) {
            var x = points[p], y = points[p + 1], z = points[p + 2];
            points[p] = m[0] * x + m[4] * y + m[8] * z + m[12];
            points[p + 1] = m[1] * x + m[5] * y + m[9] * z + m[13];
            points[p + 2] = m[2] * x + m[6] * y + m[10] * z + m[14];
          }
          var material = one.material === undefined ? {} : json.materials[one.material];
          var base = (material.pbrMetallicRoughness || {}).baseColorFactor || [0.7, 0.6, 0.45, 1];
          // The file's colors are linear, those of the screen are not.
          var color = base.slice(0, 3).map(function (c) { return Math.pow(c, 1 / 2.2); });
          var is = node.extras || {}, name = node.name || '';
          found.push({
            name: name, layer: is.layer || name, part: is.part || '', points: points, faces: faces, color: color, wood: material.name || ''
          });
        });
      }
      (node.children || []).forEach(function (child) { walk(child, m); });
    }
    var scene = (json.scenes || [{}])[json.scene || 0];
    (scene.nodes || []).forEach(function (index) { walk(index, UNIT); });
    return found;
  }
  // Every face with its own corners and one normal: flat, as a piece from the saw is.
  function flat(piece) {
    var count = piece.faces.length, out = new Float32Array(count * 6), p = piece.points;
    for (var f = 0; f + 2 < count; f += 3) {
      var a = 3 * piece.faces[f], b = 3 * piece.faces[f + 1], c = 3 * piece.faces[f + 2];
      var ux = p[b] - p[a], uy = p[b + 1] - p[a + 1], uz = p[b + 2] - p[a + 2];
      var vx = p[c] - p[a], vy = p[c + 1] - p[a + 1], vz = p[c + 2] - p[a + 2];
      var nx = uy * vz - uz * vy, ny = uz * vx - ux * vz, nz = ux * vy - uy * vx;
      var long = Math.sqrt(nx * nx + ny * ny + nz * nz) || 1;
      [a, b, c].forEach(function (corner, i) {
        out.set([p[corner], p[corner + 1], p[corner + 2], nx / long, ny / long, nz / long], 6 * (f + i));
      });
    }
    return out;
  }
  // The edges where a piece has a corner, as lines: by them neighbors of one wood are told apart.
  function edges(corners) {
    var places = new Map(), sides = new Map(), lines = [], count = corners.length / 6;
    function place(i) {
      var k = Math.round(corners[6 * i] * 1e6) + ',' + Math.round(corners[6 * i + 1] * 1e6) + ',' + Math.round(corners[6 * i + 2] * 1e6);
      if (!places.has(k)) { places.set(k, places.size); }
      return places.get(k);
    }
    for (var f = 0; f + 2 < count; f += 3) {
      var ids = [place(f), place(f + 1), place(f + 2)];
      // A triangle without an area has no side to face to.
      if (ids[0] === ids[1] || ids[1] === ids[2] || ids[2] === ids[0]) { continue; }
      for (var e = 0; e < 3; e++) {
        var i = ids[e], j = ids[(e + 1) % 3], key = i < j ? i + '-' + j : j + '-' + i, other = sides.get(key);
        if (i === j) { continue; }
        if (other === undefined) { sides.set(key, f); continue; }
        sides.delete(key);
        var dot = 0;
        for (var d = 3; d < 6; d++) { dot += corners[6 * f + d] * corners[6 * other + d]; }
        if (dot < 0.85) {
          [f + e, f + (e + 1) % 3].forEach(function (v) { for (var d = 0; d < 6; d++) { lines.push(corners[6 * v + d]); } });
        }
      }
    }
    return new Float32Array(lines);
  }

  // ---- the view ----

  function words(name) {
    var steps = name.split('.');
    if (steps[0] === 'body' && steps.length > 1) { steps.shift(); }
    return steps.join(', ').replace(/-(\d+)/g, ' $1');
  }
  function element(kind, text, above) {
    var made = document.createElement(kind);
    if (text) { made.textContent = text; }
    if (above) { above.appendChild(made); }
    return made;
  }

  var kept = { yaw: 0.6, pitch: 0.42, zoom: 1, explode: 0, section: false, noLid: false, picked: '' };
  var current = null;

  function start() {
    if (current) { current.end(); current = null; }
    document.documentElement.classList.remove('has-view');
    var data = document.getElementById('model'), canvas = document.getElementById('view-canvas');
    if (!data || !canvas) { return; }
    try { current = view(canvas, pieces(bytesOf(data.textContent))); } catch (broken) { current = null; }
    document.getElementById('view-box').hidden = !current;
    document.getElementById('view-flat').hidden = !!current;
    document.documentElement.classList.toggle('has-view', !!current);
    if (current) { current.draw(); }
  }

  function view(canvas, all) {
    var gl = canvas.getContext('webgl2') || canvas.getContext('webgl');
    if (!gl || !all.length) { return null; }
    function shader(kind, text) {
      var made = gl.createShader(kind);
      gl.shaderSource(made, text);
      gl.compileShader(made);
      return made;
    }
    var program = gl.createProgram();
    gl.attachShader(program, shader(gl.VERTEX_SHADER, VERTEX));
    gl.attachShader(program, shader(gl.FRAGMENT_SHADER, FRAGMENT));
    gl.bindAttribLocation(program, 0, 'position');
    gl.bindAttribLocation(program, 1, 'normal');
    gl.linkProgram(program);
    if (!gl.getProgramParameter(program, gl.LINK_STATUS)) { return null; }
    var place = {};
    ['seen', 'shift', 'color', 'light', 'cut', 'lines', 'inside'].forEach(function (name) { place[name] = gl.getUniformLocation(program, name); });
    function buffer(numbers) {
      var made = gl.createBuffer();
      gl.bindBuffer(gl.ARRAY_BUFFER, made);
      gl.bufferData(gl.ARRAY_BUFFER, numbers, gl.STATIC_DRAW);
      return made;
    }

    // Where everything is, and where it goes when pulled apart.
    var low = [1e9, 1e9, 1e9], high = [-1e9, -1e9, -1e9], faces = 0, layers = new Map();
    all.forEach(function (piece) {
      piece.low = [1e9, 1e9, 1e9]; piece.high = [-1e9, -1e9, -1e9];
      for (var i = 0; i < piece.points.length; i++) {
        var d = i % 3;
        piece.low[d] = Math.min(piece.low[d], piece.points[i]); piece.high[d] = Math.max(piece.high[d], piece.points[i]);
      }
      for (var k = 0; k < 3; k++) { low[k] = Math.min(low[k], piece.low[k]); high[k] = Math.max(high[k], piece.high[k]); }
      faces += piece.faces.length / 3;
      // A ring that is sawn through goes apart with its halves.
      piece.stands = piece.part + ' ' + piece.layer;
      if (!layers.has(piece.stands)) { layers.set(piece.stands, { name: piece.layer, count: 0, low: 1e9, high: -1e9 }); }
      var layer = layers.get(piece.stands);
      layer.count += 1;
      layer.low = Math.min(layer.low, piece.low[1]); layer.high = Math.max(layer.high, piece.high[1]);
    });
    var tall = high[1] - low[1], across = Math.max(high[0] - low[0], high[2] - low[2]);
    // Layers of one height, as a lining in its ring, go up together.
    var ranked = Array.from(layers.values()).sort(function (a, b) { return (a.low + a.high) - (b.low + b.high); });
    var rank = 0, gap = Math.max(tall * 1.1 / Math.max(layers.size, 2), tall * 0.06);
    ranked.forEach(function (layer, i) {
      if (i > 0 && (layer.low + layer.high) - (ranked[i - 1].low + ranked[i - 1].high) > tall * 0.004) { rank += 1; }
      layer.rank = rank;
    });
    all.forEach(function (piece) {
      var x = (piece.low[0] + piece.high[0]) / 2, z = (piece.low[2] + piece.high[2]) / 2, long = Math.sqrt(x * x + z * z);
      var goes = long > across * 0.02 && layers.get(piece.stands).count > 1 ? across * 0.22 / long : 0;
      piece.apart = [x * goes, layers.get(piece.stands).rank * gap, z * goes];
      var corners = flat(piece);
      piece.corners = corners;
      piece.buffer = buffer(corners);
      piece.count = corners.length / 6;
    });
    if (faces < 250000) {
      all.forEach(function (piece) { var lines = edges(piece.corners); piece.edges = buffer(lines); piece.edgeCount = lines.length / 6; });
    }
    var hasLid = all.some(function (piece) { return piece.part === 'lid'; });

    function shiftOf(piece) { return piece.apart.map(function (d) { return d * kept.explode; }); }
    function isShown(piece) { return !(kept.noLid && piece.part === 'lid'); }
    // Of a piece that is cut open the edges behind would be seen through the cut face.
    function isSawn(piece, cut) {
      if (!kept.section) { return false; }
      var s = shiftOf(piece), middle = 0, reach = 0;
      [0, 2].forEach(function (d) {
        middle += cut[d] * ((piece.low[d] + piece.high[d]) / 2 + s[d]);
        reach += Math.abs(cut[d]) * (piece.high[d] - piece.low[d]) / 2;
      });
      return Math.abs(middle) < reach;
    }
    function isPicked(piece) {
      return kept.picked !== '' && (piece.name === kept.picked || piece.layer === kept.picked || chosen.indexOf(piece.layer) >= 0);
    }
    var chosen = [];

    function camera() {
      var e = kept.explode, top = high[1] + rank * gap * e * 1.0;
      var middle = [(low[0] + high[0]) / 2, (low[1] + top) / 2, (low[2] + high[2]) / 2];
      var half = Math.sqrt(Math.pow(top - low[1], 2) + Math.pow(across * (1 + 0.44 * e), 2)) / 2;
      var wide = canvas.clientWidth / Math.max(canvas.clientHeight, 1), open = 0.5;
      var far = half / Math.sin(Math.atan(Math.tan(open / 2) * Math.min(1, wide))) * 1.02 / kept.zoom;
      var cy = Math.cos(kept.yaw), sy = Math.sin(kept.yaw), cp = Math.cos(kept.pitch), sp = Math.sin(kept.pitch);
      var back = [sy * cp, sp, cy * cp], right = [cy, 0, -sy], up = [-sy * sp, cp, -cy * sp];
      var eye = middle.map(function (m, i) { return m + back[i] * far; });
      function dot(a, b) { return a[0] * b[0] + a[1] * b[1] + a[2] * b[2]; }
      var look = [right[0], up[0], back[0], 0, right[1], up[1], back[1], 0, right[2], up[2], back[2], 0, -dot(right, eye), -dot(up, eye), -dot(back, eye), 1];
      var near = Math.max(far - 2.5 * half, far * 0.02), end = far + 2.5 * half, f = 1 / Math.tan(open / 2);
      var lens = [f / wide, 0, 0, 0, 0, f, 0, 0, 0, 0, (end + near) / (near - end), -1, 0, 0, 2 * end * near / (near - end), 0];
      // The saw goes through the axis and takes away the half that is nearer.
      var cut = kept.section ? [sy, 0, cy, 0] : [0, 0, 0, -1];
      return { eye: eye, right: right, up: up, back: back, seen: times(lens, look), cut: cut, wide: wide, f: f };
    }
    function render() {
      isAsked = false;
      var sharp = Math.min(window.devicePixelRatio || 1, 2);
      var wide = Math.max(1, Math.round(canvas.clientWidth * sharp)), high = Math.max(1, Math.round(canvas.clientHeight * sharp));
      if (canvas.width !== wide || canvas.height !== high) { canvas.width = wide; canvas.height = high; }
      var c = camera(), ground = getComputedStyle(canvas).backgroundColor.match(/[\d.]+/g) || [255, 255, 255];
      gl.viewport(0, 0, wide, high);
      gl.clearColor(ground[0] / 255, ground[1] / 255, ground[2] / 255, 1);
      gl.clear(gl.COLOR_BUFFER_BIT | gl.DEPTH_BUFFER_BIT);
      gl.enable(gl.DEPTH_TEST);
      gl.useProgram(program);
      gl.uniformMatrix4fv(place.seen, false, c.seen);
      gl.uniform4fv(place.cut, c.cut);
      var light = [0, 1, 2].map(function (i) { return c.back[i] * 0.7 + c.up[i] * 0.55 - c.right[i] * 0.45; });
      gl.uniform3fv(place.light, light);
      gl.enableVertexAttribArray(0);
      gl.enableVertexAttribArray(1);
      var anyPicked = all.some(isPicked), dark = ground[0] < 90;
      all.forEach(function (piece) {
        if (!isShown(piece)) { return; }
        var color = piece.color, picked = isPicked(piece), pale = ground.slice(0, 3).map(function (g) { return g / 255; });
        if (picked) { color = color.map(function (v, i) { return v * 0.35 + [1, 0.62, 0.05][i] * 0.65; }); }
        else if (anyPicked) { color = color.map(function (v, i) { return v * 0.6 + pale[i] * 0.4; }); }
        gl.uniform3fv(place.shift, shiftOf(piece));
        gl.uniform1f(place.lines, 0);
        gl.uniform3fv(place.color, color);
        // Layers of one wood are told apart where they are cut.
        gl.uniform1f(place.inside, layers.get(piece.stands).rank % 2 ? 0.78 : 0.92);
        gl.enable(gl.POLYGON_OFFSET_FILL);
        if (kept.section) {
          // Where two pieces lie on each other, the cut face of one wins over the top of the other.
          gl.enable(gl.CULL_FACE);
          gl.cullFace(gl.FRONT);
          gl.polygonOffset(-1, -4);
          paint(piece.buffer, gl.TRIANGLES, piece.count);
          gl.cullFace(gl.BACK);
          gl.polygonOffset(1, 1);
          paint(piece.buffer, gl.TRIANGLES, piece.count);
          gl.disable(gl.CULL_FACE);
        } else {
          gl.polygonOffset(1, 1);
          paint(piece.buffer, gl.TRIANGLES, piece.count);
        }
        gl.disable(gl.POLYGON_OFFSET_FILL);
        if (piece.edges && !isSawn(piece, c.cut)) {
          gl.uniform1f(place.lines, 1);
          gl.uniform3fv(place.color, dark ? [0.05, 0.04, 0.03] : color.map(function (v) { return v * 0.35; }));
          paint(piece.edges, gl.LINES, piece.edgeCount);
        }
      });
    }
    function paint(numbers, kind, count) {
      gl.bindBuffer(gl.ARRAY_BUFFER, numbers);
      gl.vertexAttribPointer(0, 3, gl.FLOAT, false, 24, 0);
      gl.vertexAttribPointer(1, 3, gl.FLOAT, false, 24, 12);
      gl.drawArrays(kind, 0, count);
    }
    var isAsked = false, hasEnded = false;
    function draw() {
      if (isAsked || hasEnded) { return; }
      isAsked = true;
      window.requestAnimationFrame(function () { if (!hasEnded) { render(); } });
    }

    // The piece under a point of the canvas, from 0 to 1 rightward and downward.
    function pieceAt(x, y) {
      var c = camera(), sx = (2 * x - 1) * c.wide / c.f, sy = (1 - 2 * y) / c.f, best = Infinity, found = null;
      var way = [0, 1, 2].map(function (i) { return c.right[i] * sx + c.up[i] * sy - c.back[i]; });
      all.forEach(function (piece) {
        if (!isShown(piece)) { return; }
        var s = shiftOf(piece), o = [c.eye[0] - s[0], c.eye[1] - s[1], c.eye[2] - s[2]], from = 0, to = Infinity;
        for (var d = 0; d < 3; d++) {
          var t1 = (piece.low[d] - o[d]) / way[d], t2 = (piece.high[d] - o[d]) / way[d];
          if (t1 !== t1 || t2 !== t2) { continue; }
          from = Math.max(from, Math.min(t1, t2)); to = Math.min(to, Math.max(t1, t2));
        }
        if (from > to + 1e-9) { return; }
        var p = piece.corners;
        for (var i = 0; i + 17 < p.length; i += 18) {
          var ux = p[i + 6] - p[i], uy = p[i + 7] - p[i + 1], uz = p[i + 8] - p[i + 2];
          var vx = p[i + 12] - p[i], vy = p[i + 13] - p[i + 1], vz = p[i + 14] - p[i + 2];
          var hx = way[1] * vz - way[2] * vy, hy = way[2] * vx - way[0] * vz, hz = way[0] * vy - way[1] * vx;
          var det = ux * hx + uy * hy + uz * hz;
          if (Math.abs(det) < 1e-15) { continue; }
          var wx = o[0] - p[i], wy = o[1] - p[i + 1], wz = o[2] - p[i + 2], u = (wx * hx + wy * hy + wz * hz) / det;
          if (u < 0 || u > 1) { continue; }
          var qx = wy * uz - wz * uy, qy = wz * ux - wx * uz, qz = wx * uy - wy * ux;
          var v = (way[0] * qx + way[1] * qy + way[2] * qz) / det;
          if (v < 0 || u + v > 1) { continue; }
          var t = (vx * qx + vy * qy + vz * qz) / det;
          if (t <= 0 || t >= best) { continue; }
          // What the section takes away is not there.
          if (kept.section && c.cut[0] * (c.eye[0] + t * way[0]) + c.cut[2] * (c.eye[2] + t * way[2]) > 0) { continue; }
          best = t; found = piece;
        }
      });
      return found;
    }

    // ---- rows and pieces ----

    var box = document.getElementById('view-box'), told = document.getElementById('view-told');
    var choice = document.getElementById('view-layer');
    function layersOf(row) { return (row.getAttribute('data-layers') || '').split('\n').filter(Boolean); }
    function rowsOf(layer) {
      var rows = Array.prototype.slice.call(document.querySelectorAll('tr[data-layers]'));
      return rows.filter(function (row) { return layersOf(row).indexOf(layer) >= 0; });
    }
    // The row of the cut list before all others.
    function rowOf(rows, wood) {
      var cuts = rows.filter(function (row) { return row.closest('table').getAttribute('data-table').indexOf('cut-list') === 0; });
      var best = cuts.length ? cuts : rows;
      var same = best.filter(function (row) { return wood && row.textContent.toLowerCase().indexOf(wood.toLowerCase()) >= 0; });
      return (same.length ? same : best)[0];
    }
    function mark(rows) {
      Array.prototype.forEach.call(document.querySelectorAll('tr.marked'), function (row) { row.classList.remove('marked'); });
      rows.forEach(function (row) { row.classList.add('marked'); });
    }
    function goTo(target, focus) {
      target.scrollIntoView({ block: 'center' });
      if (focus) { focus.focus({ preventScroll: true }); }
    }
    function pick(name) {
      chosen = [];
      kept.picked = name;
      told.textContent = '';
      mark([]);
      if (name) {
        var piece = all.filter(function (one) { return one.name === name; })[0];
        var layer = piece ? piece.layer : name, row = rowOf(rowsOf(layer), piece ? piece.wood : '');
        var line = element('p', '', told);
        element('strong', words(name), line);
        if (piece && piece.wood) { element('span', ', ' + piece.wood, line); }
        if (row) {
          mark([row]);
          var list = element('dl', '', told);
          Array.prototype.forEach.call(row.querySelectorAll('td[data-label]'), function (cell) {
            if (!cell.textContent) { return; }
            var pair = element('div', '', list);
            element('dt', cell.getAttribute('data-label'), pair);
            element('dd', cell.textContent, pair);
          });
          var button = element('button', 'Go to its row', told);
          button.type = 'button';
          button.id = 'view-go';
          button.addEventListener('click', function () { goTo(row, row); });
        } else {
          element('p', 'No table has a row for it.', told);
        }
        choice.value = layer;
      } else {
        choice.value = '';
      }
      draw();
    }
    function onShow(event) {
      var button = event.target.closest ? event.target.closest('button.shows') : null;
      if (!button) { return; }
      var row = button.closest('tr'), names = layersOf(row);
      told.textContent = '';
      chosen = names;
      kept.picked = names[0];
      choice.value = names.length === 1 ? names[0] : '';
      mark([row]);
      element('p', names.map(words).join('; '), told);
      var back = element('button', 'Back to the row', told);
      back.type = 'button';
      back.addEventListener('click', function () { goTo(row, button); });
      goTo(box, canvas);
      draw();
    }

    // ---- hands ----

    var fingers = new Map(), moved = 0, spread = 0;
    function zoom(by) { kept.zoom = Math.min(12, Math.max(0.5, kept.zoom * by)); draw(); }
    function turn(right, up) {
      kept.yaw -= right;
      kept.pitch = Math.min(1.55, Math.max(-1.55, kept.pitch + up));
      draw();
    }
    function distance() {
      var two = Array.from(fingers.values());
      return Math.sqrt(Math.pow(two[0].x - two[1].x, 2) + Math.pow(two[0].y - two[1].y, 2));
    }
    function onDown(event) {
      if (event.button) { return; }
      try { canvas.setPointerCapture(event.pointerId); } catch (gone) { /* the finger is up again */ }
      fingers.set(event.pointerId, { x: event.clientX, y: event.clientY });
      if (fingers.size === 1) { moved = 0; } else { moved = 100; spread = fingers.size === 2 ? distance() : 0; }
    }
    function onMove(event) {
      var finger = fingers.get(event.pointerId);
      if (!finger) { return; }
      var x = event.clientX - finger.x, y = event.clientY - finger.y;
      finger.x = event.clientX; finger.y = event.clientY;
      moved += Math.abs(x) + Math.abs(y);
      if (fingers.size === 1) { turn(x * 0.01, y * 0.01); }
      if (fingers.size === 2) {
        var now = distance();
        if (spread > 0) { zoom(now / spread); }
        spread = now;
      }
    }
    function onUp(event) {
      if (!fingers.delete(event.pointerId) || moved > 6 || event.type !== 'pointerup') { return; }
      var frame = canvas.getBoundingClientRect();
      var piece = pieceAt((event.clientX - frame.left) / frame.width, (event.clientY - frame.top) / frame.height);
      pick(piece ? piece.name : '');
    }
    function onWheel(event) {
      // The wheel belongs to the page until the view was clicked.
      if (document.activeElement !== canvas && !event.ctrlKey) { return; }
      event.preventDefault();
      zoom(Math.exp(-event.deltaY * (event.deltaMode ? 0.05 : 0.0015)));
    }
    function onKey(event) {
      var does = {
        ArrowLeft: function () { turn(-0.12, 0); }, ArrowRight: function () { turn(0.12, 0); },
        ArrowUp: function () { turn(0, -0.12); }, ArrowDown: function () { turn(0, 0.12); },
        '+': function () { zoom(1.15); }, '=': function () { zoom(1.15); }, '-': function () { zoom(1 / 1.15); },
        '0': home, Escape: function () { pick(''); }
      }[event.key];
      if (does && !event.ctrlKey && !event.metaKey && !event.altKey) { event.preventDefault(); does(); }
    }
    var explode = document.getElementById('view-explode'), section = document.getElementById('view-section');
    var lid = document.getElementById('view-lid'), back = document.getElementById('view-home');
    function show() {
      explode.value = String(Math.round(kept.explode * 100));
      section.setAttribute('aria-pressed', String(kept.section));
      lid.setAttribute('aria-pressed', String(kept.noLid));
      draw();
    }
    function home() {
      kept.yaw = 0.6; kept.pitch = 0.42; kept.zoom = 1; kept.explode = 0; kept.section = false; kept.noLid = false;
      show();
      pick('');
    }
    lid.hidden = !hasLid;
    var names = ranked.map(function (layer) { return layer.name; });
    names.filter(function (name, at) { return names.indexOf(name) === at; }).reverse().forEach(function (name) {
      element('option', words(name), choice).value = name;
    });

    // All of it goes when the sheet is drawn anew.
    var ends = [];
    function on(target, kind, does, how) {
      target.addEventListener(kind, does, how);
      ends.push(function () { target.removeEventListener(kind, does, how); });
    }
    on(canvas, 'pointerdown', onDown);
    on(canvas, 'pointermove', onMove);
    on(canvas, 'pointerup', onUp);
    on(canvas, 'pointercancel', onUp);
    on(canvas, 'wheel', onWheel, { passive: false });
    on(canvas, 'keydown', onKey);
    on(explode, 'input', function () { kept.explode = Number(explode.value) / 100; draw(); });
    on(section, 'click', function () { kept.section = !kept.section; show(); });
    on(lid, 'click', function () { kept.noLid = !kept.noLid; show(); });
    on(back, 'click', home);
    on(choice, 'change', function () { pick(choice.value); });
    on(document, 'click', onShow);
    on(document, 'ringwright:theme', draw);
    on(window, 'resize', draw);
    on(canvas, 'webglcontextlost', function (event) {
      event.preventDefault();
      document.getElementById('view-flat').hidden = false;
    });
    on(canvas, 'webglcontextrestored', start);
    show();
    if (kept.picked && all.some(function (one) { return one.name === kept.picked || one.layer === kept.picked; })) {
      window.setTimeout(function () { if (!hasEnded) { pick(kept.picked); } }, 0);
    } else { kept.picked = ''; }
    function end() { hasEnded = true; ends.forEach(function (one) { one(); }); }
    return { draw: draw, end: end };
  }

  ringwright.onStart(start);
}());
