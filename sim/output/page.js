// The interactive layer over the static charts: one cursor and one zoom for all charts of a grid.
(function () {
  'use strict';
  var box = document.getElementById('chart-data');
  if (!box || typeof Dygraph === 'undefined') return;
  var page = JSON.parse(box.textContent);
  var groups = {};
  var busy = false;

  function text(value, decimals) { return value.toFixed(decimals); }

  function both(value, unit, second, decimals) {
    var words = text(value, decimals) + ' ' + unit;
    return second.factor > 0 ? words + ', ' + text(value * second.factor, decimals) + ' ' + second.unit : words;
  }

  function readAt(entry, row) {
    var grid = page.grids[entry.chart.grid];
    var out = entry.figure.querySelector('.reading');
    out.textContent = '';
    var at = document.createElement('b');
    at.textContent = 'at ' + both(grid.values[row], grid.unit, grid.second, grid.decimals) + ':';
    out.appendChild(at);
    entry.chart.lines.forEach(function (line) {
      var value = line.values[row];
      if (value === null) return;
      var item = document.createElement('b');
      item.style.color = page.styles[line.setup].colour;
      item.textContent = line.name + ' ' + both(value, entry.chart.unit, entry.chart.second, entry.chart.unit === 'mph' ? 1 : Math.min(entry.chart.decimals, 2));
      out.appendChild(item);
      out.appendChild(document.createTextNode(' '));
    });
  }

  function pointAt(group, row) {
    if (busy) return;
    busy = true;
    group.forEach(function (entry) {
      if (row < 0) entry.plot.clearSelection(); else entry.plot.setSelection(row);
      if (row >= 0) readAt(entry, row);
    });
    busy = false;
  }

  function moveStrips(range) {
    var span = range[1] - range[0];
    document.querySelectorAll('svg.limits g').forEach(function (part) {
      var from = Math.max(Number(part.dataset.from), range[0]), to = Math.min(Number(part.dataset.to), range[1]);
      var x = 100 * (from - range[0]) / span, wide = Math.max(0, 100 * (to - from) / span);
      var rect = part.querySelector('rect'), word = part.querySelector('text');
      rect.setAttribute('x', x + '%');
      rect.setAttribute('width', wide + '%');
      word.setAttribute('x', x + wide / 2 + '%');
      word.setAttribute('visibility', wide < 9 ? 'hidden' : 'visible');
    });
  }

  function zoomTo(group, range) {
    if (busy) return;
    busy = true;
    group.forEach(function (entry) { entry.plot.updateOptions({ dateWindow: range }); });
    if (group === groups.time) moveStrips(range);
    busy = false;
  }

  function whole(grid) { return [grid.values[0], grid.values[grid.values.length - 1]]; }

  function underlay(chart) {
    return function (canvas, area, plot) {
      canvas.save();
      canvas.font = '13px system-ui, sans-serif';
      chart.spans.forEach(function (span) {
        var left = plot.toDomXCoord(span.from), wide = plot.toDomXCoord(span.to) - left;
        if (span.setup === 0) {
          canvas.fillStyle = 'rgba(255, 217, 176, 0.55)';
          canvas.fillRect(left, area.y, wide, area.h);
        }
        canvas.fillStyle = page.styles[span.setup].colour;
        canvas.fillRect(left, area.y + area.h - 7 * (span.setup + 1), wide, 5.5);
      });
      chart.levels.forEach(function (level) {
        var y = plot.toDomYCoord(level.value);
        canvas.strokeStyle = page.styles[level.setup].colour;
        canvas.setLineDash([1, 3]);
        canvas.beginPath();
        canvas.moveTo(area.x, y);
        canvas.lineTo(area.x + area.w, y);
        canvas.stroke();
        canvas.fillStyle = '#000';
        canvas.textAlign = 'right';
        canvas.fillText(level.label, area.x + area.w - 4, y - 4);
      });
      canvas.setLineDash([]);
      var foot = area.y + area.h - 8 - 16 * chart.points.length;
      chart.points.forEach(function (point) {
        var style = page.styles[point.setup];
        var above = point.setup % 2 === 0, toRight = point.setup % 4 < 2;
        var x = plot.toDomXCoord(point.x), y = plot.toDomYCoord(point.y);
        canvas.fillStyle = '#000';
        canvas.textAlign = 'right';
        foot += 16;
        canvas.fillText(point.label, area.x + area.w - 6, foot);
        if (x < area.x || x > area.x + area.w) return;
        canvas.textAlign = toRight ? 'left' : 'right';
        canvas.fillText(style.letter, toRight ? x + 6 : x - 6, above ? y - 7 : y + 16);
        canvas.fillStyle = style.colour;
        canvas.beginPath();
        canvas.arc(x, y, 5, 0, 2 * Math.PI);
        canvas.fill();
      });
      canvas.restore();
    };
  }

  // The library would take every touch for itself, and the page could no longer be scrolled over a chart.
  function mouseOnly() {
    var model = {};
    Object.keys(Dygraph.defaultInteractionModel).forEach(function (name) {
      if (name.indexOf('touch') !== 0) model[name] = Dygraph.defaultInteractionModel[name];
    });
    return model;
  }

  function nearestRow(values, x) {
    var low = 0, high = values.length - 1;
    while (high - low > 1) {
      var middle = (low + high) >> 1;
      if (values[middle] < x) low = middle; else high = middle;
    }
    return x - values[low] < values[high] - x ? low : high;
  }

  // One finger reads, two zoom; up and down still scrolls the page.
  function listenToFingers(group, entry, place) {
    var pinned = null, grid = page.grids[entry.chart.grid];
    function pixel(touch) { return touch.clientX - place.getBoundingClientRect().left; }
    function onTouch(event) {
      if (event.touches.length === 1) {
        pinned = null;
        pointAt(group, nearestRow(grid.values, entry.plot.toDataXCoord(pixel(event.touches[0]))));
      } else if (event.touches.length === 2) {
        event.preventDefault();
        var at = [pixel(event.touches[0]), pixel(event.touches[1])];
        if (!pinned) pinned = at.map(function (x) { return entry.plot.toDataXCoord(x); });
        if (Math.abs(at[1] - at[0]) < 10) return;
        var scale = (pinned[1] - pinned[0]) / (at[1] - at[0]), area = entry.plot.getArea();
        var low = pinned[0] - (at[0] - area.x) * scale, high = low + area.w * scale, all = whole(grid);
        low = Math.max(low, all[0]);
        high = Math.min(high, all[1]);
        if (high > low) zoomTo(group, [low, high]);
      }
    }
    place.addEventListener('touchstart', onTouch, { passive: false });
    place.addEventListener('touchmove', onTouch, { passive: false });
    place.addEventListener('touchend', function () { pinned = null; });
  }

  function draw(chart) {
    var figure = document.getElementById(chart.id);
    var grid = page.grids[chart.grid];
    var group = groups[chart.grid] = groups[chart.grid] || [];
    var place = document.createElement('div');
    place.className = 'live';
    figure.classList.add('alive');
    figure.insertBefore(place, figure.querySelector('.reading'));
    var rows = grid.values.map(function (x, i) {
      return [x].concat(chart.lines.map(function (line) { return line.values[i]; }));
    });
    var series = {};
    chart.lines.forEach(function (line) {
      var style = page.styles[line.setup];
      series[line.name] = line.weight === 'dots' ?
        { color: style.colour, strokeWidth: 0, drawPoints: true, pointSize: 2 } :
        { color: style.colour, strokeWidth: line.weight === 'thin' ? 1.3 : 2.6, strokePattern: style.dashes.length ? style.dashes : null };
    });
    var second = chart.second;
    var entry = { chart: chart, figure: figure, plot: null };
    entry.plot = new Dygraph(place, rows, {
      labels: [grid.label].concat(chart.lines.map(function (line) { return line.name; })),
      series: series,
      legend: 'never',
      connectSeparatedPoints: true,
      interactionModel: mouseOnly(),
      valueRange: [chart.low, chart.high],
      dateWindow: whole(grid),
      gridLineColor: '#ccc',
      axisLineColor: '#000',
      highlightCircleSize: 4,
      underlayCallback: underlay(chart),
      axes: {
        x: { valueFormatter: String, axisLabelFormatter: function (x) { return Number(x.toPrecision(6)) + (grid.decimals === 0 ? '' : ' ' + grid.unit); }, pixelsPerLabel: 56 },
        y: {
          axisLabelWidth: 46,
          pixelsPerLabel: 44,
          axisLabelFormatter: function (y) {
            var words = '<b>' + Number(y.toPrecision(6)) + '</b>';
            return second.factor > 0 && y !== 0 ? words + '<br><small>' + (y * second.factor).toFixed(second.factor * (chart.high - chart.low) > 20 ? 0 : 1) + '</small>' : words;
          }
        }
      },
      highlightCallback: function (event, x, points, row) { pointAt(group, row); },
      unhighlightCallback: function () { pointAt(group, -1); },
      drawCallback: function (plot, initial) { if (!initial && entry.plot) zoomTo(group, plot.xAxisRange()); }
    });
    group.push(entry);
    listenToFingers(group, entry, place);
  }

  page.charts.forEach(draw);
  Object.keys(groups).forEach(function (name) { pointAt(groups[name], Math.floor(page.grids[name].values.length / 5)); });
  document.querySelectorAll('.hint').forEach(function (hint) { hint.hidden = false; });
  document.querySelectorAll('.whole').forEach(function (button) {
    button.addEventListener('click', function () {
      Object.keys(groups).forEach(function (name) { zoomTo(groups[name], whole(page.grids[name])); });
    });
  });
}());
