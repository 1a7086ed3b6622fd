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
    if (row < 0) return;
    var at = document.createElement('b');
    at.textContent = 'at ' + both(grid.values[row], grid.unit, grid.second, grid.unit === 's' ? 2 : grid.unit === 'rpm' ? 0 : 1) + ':';
    out.appendChild(at);
    entry.chart.lines.forEach(function (line) {
      var value = line.values[row];
      if (value === null) return;
      var item = document.createElement('b');
      item.style.color = page.styles[line.setup].colour;
      item.textContent = line.name + ' ' + both(value, entry.chart.unit, entry.chart.second, Math.min(entry.chart.decimals, 1));
      out.appendChild(item);
      out.appendChild(document.createTextNode(' '));
    });
  }

  function pointAt(group, row) {
    if (busy) return;
    busy = true;
    group.forEach(function (entry) {
      if (row < 0) entry.plot.clearSelection(); else entry.plot.setSelection(row);
      readAt(entry, row);
    });
    busy = false;
  }

  function moveStrips(range) {
    var span = range[1] - range[0];
    document.querySelectorAll('svg.limits g').forEach(function (part) {
      var from = Math.max(Number(part.dataset.from), range[0]), to = Math.min(Number(part.dataset.to), range[1]);
      var x = 100 * (from - range[0]) / span, wide = Math.max(0, 100 * (to - from) / span);
      var rect = part.querySelector('rect'), letter = part.querySelector('text');
      rect.setAttribute('x', x + '%');
      rect.setAttribute('width', wide + '%');
      letter.setAttribute('x', x + wide / 2 + '%');
      letter.setAttribute('visibility', wide < 4 ? 'hidden' : 'visible');
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
      chart.points.forEach(function (point) {
        var x = plot.toDomXCoord(point.x), y = plot.toDomYCoord(point.y);
        if (x < area.x || x > area.x + area.w) return;
        var atRight = x > area.x + 0.7 * area.w;
        canvas.fillStyle = page.styles[point.setup].colour;
        canvas.beginPath();
        canvas.arc(x, y, 5, 0, 2 * Math.PI);
        canvas.fill();
        canvas.fillStyle = '#000';
        canvas.textAlign = atRight ? 'right' : 'left';
        canvas.fillText(point.label, atRight ? x - 9 : x + 9, y + 4 + 14 * point.setup);
      });
      canvas.restore();
    };
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
      series[line.name] = { color: style.colour, strokeWidth: line.thin ? 1.3 : 2.6, strokePattern: style.dashes.length ? style.dashes : null };
    });
    var second = chart.second;
    var entry = { chart: chart, figure: figure, plot: null };
    entry.plot = new Dygraph(place, rows, {
      labels: [grid.label].concat(chart.lines.map(function (line) { return line.name; })),
      series: series,
      legend: 'never',
      valueRange: [chart.low, chart.high],
      dateWindow: whole(grid),
      gridLineColor: '#ccc',
      axisLineColor: '#000',
      highlightCircleSize: 4,
      underlayCallback: underlay(chart),
      axes: {
        x: { valueFormatter: String, axisLabelFormatter: function (x) { return Number(x.toPrecision(6)) + ' ' + grid.unit; }, pixelsPerLabel: 64 },
        y: {
          axisLabelWidth: second.factor > 0 ? 58 : 50,
          pixelsPerLabel: 44,
          axisLabelFormatter: function (y) {
            var words = Number(y.toPrecision(6)) + '';
            return second.factor > 0 ? words + '<br><small>' + (y * second.factor).toFixed(0) + ' ' + second.unit + '</small>' : words + ' ' + chart.unit;
          }
        }
      },
      highlightCallback: function (event, x, points, row) { pointAt(group, row); },
      unhighlightCallback: function () { pointAt(group, -1); },
      drawCallback: function (plot, initial) { if (!initial && entry.plot) zoomTo(group, plot.xAxisRange()); }
    });
    group.push(entry);
  }

  page.charts.forEach(draw);
  document.querySelectorAll('.hint').forEach(function (hint) { hint.hidden = false; });
  document.getElementById('whole').addEventListener('click', function () { zoomTo(groups.time, whole(page.grids.time)); });
}());
