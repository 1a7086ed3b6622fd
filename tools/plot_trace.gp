# Draws a trace: gnuplot -e "trace='out/demo/trace.csv'; picture='out/demo/trace.svg'" tools/plot_trace.gp
if (!exists("trace")) trace = "trace.csv"
if (!exists("picture")) picture = "trace.svg"
set terminal svg size 900,1100 background "white" font ",14"
set output picture
set datafile separator ","
set key autotitle columnhead outside right top
set grid
set xlabel "time, s"
set multiplot layout 4,1
set ylabel "speed, mph"
plot trace using "time_s":(column("speed_m_s") / 0.44704) with lines lw 2 title "speed"
set ylabel "rpm"
plot trace using "time_s":"shaft_rpm" with lines lw 2 title "shaft"
set ylabel "N"
plot trace using "time_s":"thrust_N" with lines lw 2 title "thrust", \
     trace using "time_s":"drag_N" with lines lw 2 dashtype 2 title "drag"
set ylabel "NPSH, m"
plot trace using "time_s":"npsh_available_m" with lines lw 2 title "available", \
     trace using "time_s":"npsh_required_m" with lines lw 2 dashtype 2 title "required"
unset multiplot
