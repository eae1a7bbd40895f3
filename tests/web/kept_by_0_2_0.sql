BEGIN TRANSACTION;
CREATE TABLE alembic_version (
	version_num VARCHAR(32) NOT NULL, 
	CONSTRAINT alembic_version_pkc PRIMARY KEY (version_num)
);
INSERT INTO "alembic_version" VALUES('0001');
CREATE TABLE sheets (
	id INTEGER NOT NULL, 
	token VARCHAR(32) NOT NULL, 
	reference VARCHAR(9) NOT NULL, 
	model_version VARCHAR(20) NOT NULL, 
	saved_at_s BIGINT NOT NULL, 
	expires_at_s BIGINT, 
	note VARCHAR(200) NOT NULL, 
	title VARCHAR(300) NOT NULL, 
	question TEXT NOT NULL, 
	"query" TEXT NOT NULL, 
	answer TEXT NOT NULL, 
	page TEXT NOT NULL, 
	PRIMARY KEY (id), 
	UNIQUE (token), 
	UNIQUE (reference)
);
INSERT INTO "sheets" VALUES(1,'SqPVdGryE06dLop2ji6d0YaMmCcjvqur','8746-3273','0.2.0',1795628272,NULL,'kept by the page','At −11 °C, nine days in ten you get at least 191 km on one charge','{"vehicle":{"id":"small-electric-hatch"},"journey":{"legs":[{"distance_km":3.0,"speed_km_h":40.0,"stops_per_km":1.5},{"distance_km":10.0,"speed_km_h":80.0,"stops_per_km":0.1},{"distance_km":10.0,"speed_km_h":80.0,"stops_per_km":0.1},{"distance_km":3.0,"speed_km_h":40.0,"stops_per_km":1.5}]},"procedure":"road","weather":{"temperature_c":-11.0,"surface":"dry"},"start":{"soaked":true,"preconditioned":false},"cabin":{"climate":"auto","air":"auto","seat_heat":false},"circuit":{"id":"eu-household-10a"},"outfit":{"tyres":{"winter":false},"roof_box":false}}','units=metric&typed_units=metric&vehicle=small-electric-hatch&own_name=your+car&own_kind=bev&own_mass_basis=kerb&own_road_load=label&own_label=us&own_basis=socket&journey=legs&leg1_distance=3&leg1_speed=40&leg1_stops=1.5&leg2_distance=10&leg2_speed=80&leg2_stops=0.1&round_trip=yes&procedure=road&temperature=-11&surface=dry&soaked=yes&preconditioned=no&climate=auto&cabin_air=auto&seat_heat=no&winter_tyres=no&roof_box=no&circuit=eu-household-10a&months_by=place&between_trips=no&overnight=outside&work_charging=no&year_by=place&plug_in_hour=18&typed_units=metric','{"model_version":"0.2.0","vehicle":{"id":"small-electric-hatch","name":"Small electric hatchback","kind":"bev"},"range_km":{"p10":190.54,"p50":221.36,"p90":246.56},"journey":{"distance_km":26.0,"duration_s":1807.2,"battery_wh_per_km":{"p10":222.42,"p50":246.56,"p90":281.19},"wall_wh_per_km":{"p10":269.22,"p50":301.57,"p90":349.94},"ledger_wh_per_km":{"air":46.319,"rolling":52.609,"climbing":0.0,"brakes":2.2284,"drivetrain":19.003,"pack":14.482,"heating":79.97,"cooling":0.0,"pack_conditioning":27.511,"electronics":4.4409},"arrives_with_pct":{"p10":83.182,"p50":85.41,"p90":86.884},"completed_on_electricity":true},"to_empty":{"distance_km":{"p10":190.54,"p50":221.36,"p90":246.56},"duration_s":15371.0,"battery_wh_per_km":{"p10":172.93,"p50":192.35,"p90":221.05},"wall_wh_per_km":{"p10":211.04,"p50":235.27,"p90":274.53},"ledger_wh_per_km":{"air":46.332,"rolling":50.72,"climbing":0.0,"brakes":2.7153,"drivetrain":18.925,"pack":7.929,"heating":58.063,"cooling":0.0,"pack_conditioning":3.2312,"electronics":4.4364},"ended_by":"empty"},"charging":{"hours":{"p10":21.95,"p50":22.641,"p90":24.163},"wall_kwh":{"p10":50.485,"p50":52.074,"p90":55.574},"efficiency":0.82181,"limited_by":"circuit","limited_by_sentence":"The outlet sets the pace: it gives 2.3 kW, and the car''s own charger could take 7.4 kW.","power_kw":2.3,"circuit":{"id":"eu-household-10a","name":"Household socket, 230 V at 10 A","region":"continental_europe","volts":230.0,"amps":10.0,"phases":1},"outlets":[{"circuit":{"id":"eu-household-10a","name":"Household socket, 230 V at 10 A","region":"continental_europe","volts":230.0,"amps":10.0,"phases":1},"hours":22.641},{"circuit":{"id":"eu-three-phase-16a","name":"Three-phase wall unit, 400 V 16 A","region":"continental_europe","volts":230.0,"amps":16.0,"phases":3},"hours":13.384}]},"events":[],"sensitivities":[{"input":"climate","effect_km":104.43,"sentence":"Cabin heating and cooling switched off"},{"input":"health","effect_km":-36.864,"sentence":"A battery aged to 85 % of its capacity"},{"input":"temperature","effect_km":-32.063,"sentence":"Ten degrees Celsius (18 °F) colder"},{"input":"roof_box","effect_km":-10.003,"sentence":"A roof box"},{"input":"surface","effect_km":-9.8099,"sentence":"A wet road"},{"input":"preconditioned","effect_km":8.7189,"sentence":"Cabin and battery brought to temperature while still plugged in"},{"input":"payload","effect_km":-7.7536,"sentence":"Two passengers'' weight more (150 kg, 330 lb)"},{"input":"seat_heat","effect_km":7.3579,"sentence":"Seat and wheel heat on and the cabin 3 °C (5 °F) cooler"},{"input":"wind","effect_km":-7.2098,"sentence":"A strong breeze of 40 km/h (25 mph)"},{"input":"speed","effect_km":6.9126,"sentence":"Driving ten per cent slower"},{"input":"pressure","effect_km":-6.1961,"sentence":"Tyres half a bar (7 psi) too soft"},{"input":"style","effect_km":3.6285,"sentence":"Gentler speeding up and braking"}],"assumptions":[{"name":"label","value":"reproduced","unit":"","source":"by moving no figure by more than 5%"},{"name":"wind","value":12.0,"unit":"km/h","source":"mean of the monthly winds of data/places.csv is about 14 km/h at 10 m; open-country stations lie above towns: common practice"},{"name":"relative humidity","value":0.7,"unit":"1","source":"mean of two typical years, TMY3 Chicago O''Hare and Greensboro (70 % each)"},{"name":"sunshine on level ground","value":160.0,"unit":"W/m2","source":"mean global horizontal irradiance of a typical year, TMY3 Chicago O''Hare (161 W/m2)"},{"name":"bearing, brake and oil drag","value":15.0,"unit":"N","source":"bearing and brake drag and oil of a car given by drag area and tyres: from memory"},{"name":"drag that grows with speed","value":1.0,"unit":"N s/m","source":"speed-dependent oil and magnet drag of the same: from memory (B terms of coastdown fits)"},{"name":"braking asked of the motor","value":0.9,"unit":"1","source":"share of service braking asked of the motor in a blended system: common practice (captured share 60-90 %)"},{"name":"efficiency of the onboard charger alone","value":0.93,"unit":"1","source":"onboard charger alone 90-95 %: from memory"},{"name":"drawn by the car while charging","value":200.0,"unit":"W","source":"control units and pump while charging 150-400 W: common practice"}],"notes":["Below 5 °C (41 °F) the rolling resistance of tyres is extrapolated; the span is wider for it.","A drive from cold takes 28 % more energy than the same distance driven in one go, which warms cabin and tyres once."]}','<p class="question">
<span class="asked-car"><span class="what">Car</span> Small electric hatchback</span>
<span class="asked-journey"><span class="what">Journey</span> 26 km there and back</span>
<span class="asked-day"><span class="what">Day</span> −11 °C, dry road</span>
<span class="asked-cabin"><span class="what">Cabin</span> kept at 21 °C, 1 person</span>
<span class="asked-start"><span class="what">Start</span> 100 % charged, parked overnight</span>
<span class="asked-socket"><span class="what">Socket</span> Household socket, 230 V at 10 A</span>
</p>
<section class="first" aria-labelledby="headline">
<h1 id="headline">At −11 °C, nine days in ten you get at least 191 km on one charge.</h1>
<p class="second">Half the days it is 221 km or more, one day in ten 247 km. The 26 km there and back fits, with 83 % or more of the charge left. That is 5 such drives before plugging in.</p>
<div class="drawing">
<svg class="ruler wide" xmlns="http://www.w3.org/2000/svg" viewBox="0 0 760 200" role="img" aria-labelledby="range-wide-title range-wide-desc" fill="none" font-family="''Segoe UI'', Roboto, ''Helvetica Neue'', ''Liberation Sans'', Arial, sans-serif"><title id="range-wide-title">Distance in km</title><desc id="range-wide-desc">nine days in ten, at least 191 km; half the days, at least 221 km; one day in ten, at least 247 km; at 20 °C, half the days, at least 386 km</desc><line x1="353.3" y1="51" x2="353.3" y2="31" stroke="#1b1d1f" stroke-width="1"/><text x="348.3" y="43.5" font-size="14.5" text-anchor="end" fill="#1b1d1f"><tspan font-weight="600" font-size="17">191 km</tspan> nine days in ten</text><line x1="410.2" y1="51" x2="410.2" y2="6" stroke="#1b1d1f" stroke-width="2"/><text x="405.2" y="18.5" font-size="14.5" text-anchor="end" fill="#1b1d1f"><tspan font-weight="600" font-size="17">221 km</tspan> half the days</text><line x1="456.8" y1="51" x2="456.8" y2="31" stroke="#1b1d1f" stroke-width="1"/><text x="461.8" y="43.5" font-size="14.5" text-anchor="start" fill="#1b1d1f"><tspan font-weight="600" font-size="17">247 km</tspan> one day in ten</text><line x1="715.4" y1="51" x2="715.4" y2="6" stroke="#5c6166" stroke-width="1" stroke-dasharray="2 3"/><text x="710.4" y="18.5" font-size="14.5" text-anchor="end" fill="#5c6166"><tspan font-weight="600" font-size="17">386 km</tspan> at 20 °C</text><rect x="1" y="56.5" width="352.3" height="3" fill="#0a5a6e"/><rect x="353.3" y="51" width="103.6" height="14" fill="#0a5a6e"/><rect x="407.2" y="51" width="6" height="14" fill="#ffffff"/><line x1="410.2" y1="51" x2="410.2" y2="66" stroke="#1b1d1f" stroke-width="2"/><line x1="715.4" y1="51" x2="715.4" y2="66" stroke="#5c6166" stroke-width="1" stroke-dasharray="2 3"/><line x1="1" y1="66" x2="759" y2="66" stroke="#1b1d1f" stroke-width="1.25"/><path d="M1 66v13M93.4 66v13M185.9 66v13M278.3 66v13M370.8 66v13M463.2 66v13M555.6 66v13M648.1 66v13M740.5 66v13" stroke="#1b1d1f"/><path d="" stroke="#1b1d1f"/><path d="M19.5 66v5M38 66v5M56.5 66v5M75 66v5M111.9 66v5M130.4 66v5M148.9 66v5M167.4 66v5M204.4 66v5M222.9 66v5M241.3 66v5M259.8 66v5M296.8 66v5M315.3 66v5M333.8 66v5M352.3 66v5M389.2 66v5M407.7 66v5M426.2 66v5M444.7 66v5M481.7 66v5M500.2 66v5M518.7 66v5M537.1 66v5M574.1 66v5M592.6 66v5M611.1 66v5M629.6 66v5M666.6 66v5M685 66v5M703.5 66v5M722 66v5M759 66v5" stroke="#8f959b"/><text x="17.3" y="94.5" font-size="14.5" text-anchor="middle" fill="#5c6166">0 km</text><text x="93.4" y="94.5" font-size="14.5" text-anchor="middle" fill="#5c6166">50</text><text x="185.9" y="94.5" font-size="14.5" text-anchor="middle" fill="#5c6166">100</text><text x="278.3" y="94.5" font-size="14.5" text-anchor="middle" fill="#5c6166">150</text><text x="370.8" y="94.5" font-size="14.5" text-anchor="middle" fill="#5c6166">200</text><text x="463.2" y="94.5" font-size="14.5" text-anchor="middle" fill="#5c6166">250</text><text x="555.6" y="94.5" font-size="14.5" text-anchor="middle" fill="#5c6166">300</text><text x="648.1" y="94.5" font-size="14.5" text-anchor="middle" fill="#5c6166">350</text><text x="740.5" y="94.5" font-size="14.5" text-anchor="middle" fill="#5c6166">400</text><line x1="1" y1="113" x2="49.1" y2="113" stroke="#1b1d1f" stroke-width="3"/><line x1="1" y1="107" x2="1" y2="119" stroke="#1b1d1f" stroke-width="1.5"/><line x1="25" y1="107" x2="25" y2="119" stroke="#1b1d1f" stroke-width="1.5"/><line x1="49.1" y1="107" x2="49.1" y2="119" stroke="#1b1d1f" stroke-width="1.5"/><line x1="49.1" y1="113" x2="433.6" y2="113" stroke="#8f959b" stroke-width="1"/><line x1="97.1" y1="109" x2="97.1" y2="117" stroke="#8f959b" stroke-width="1"/><line x1="145.2" y1="109" x2="145.2" y2="117" stroke="#8f959b" stroke-width="1"/><line x1="193.3" y1="109" x2="193.3" y2="117" stroke="#8f959b" stroke-width="1"/><line x1="241.3" y1="109" x2="241.3" y2="117" stroke="#8f959b" stroke-width="1"/><line x1="289.4" y1="109" x2="289.4" y2="117" stroke="#8f959b" stroke-width="1"/><line x1="337.5" y1="109" x2="337.5" y2="117" stroke="#8f959b" stroke-width="1"/><line x1="385.5" y1="109" x2="385.5" y2="117" stroke="#8f959b" stroke-width="1"/><line x1="433.6" y1="109" x2="433.6" y2="117" stroke="#8f959b" stroke-width="1"/><line x1="1" y1="119" x2="1" y2="189" stroke="#1b1d1f" stroke-width="1"/><text x="6" y="189" font-size="14.5" text-anchor="start" fill="#1b1d1f">home</text><line x1="25" y1="119" x2="25" y2="164" stroke="#1b1d1f" stroke-width="1"/><text x="30" y="164" font-size="14.5" text-anchor="start" fill="#1b1d1f"><tspan font-weight="600" font-size="17">13 km</tspan> work</text><line x1="49.1" y1="119" x2="49.1" y2="139" stroke="#1b1d1f" stroke-width="1"/><text x="54.1" y="139" font-size="14.5" text-anchor="start" fill="#1b1d1f"><tspan font-weight="600" font-size="17">26 km</tspan> home again</text></svg>
<svg class="ruler narrow" xmlns="http://www.w3.org/2000/svg" viewBox="0 0 336 226.8" role="img" aria-labelledby="range-narrow-title range-narrow-desc" fill="none" font-family="''Segoe UI'', Roboto, ''Helvetica Neue'', ''Liberation Sans'', Arial, sans-serif"><title id="range-narrow-title">Distance in km</title><desc id="range-narrow-desc">nine days in ten, at least 191 km; half the days, at least 221 km; one day in ten, at least 247 km; at 20 °C, half the days, at least 386 km</desc><line x1="156.2" y1="89" x2="156.2" y2="5.4" stroke="#1b1d1f" stroke-width="1"/><text x="161.2" y="16.4" font-size="13" text-anchor="start" fill="#1b1d1f"><tspan font-weight="600" font-size="15">191 km</tspan> nine days in ten</text><line x1="181.3" y1="89" x2="181.3" y2="27.4" stroke="#1b1d1f" stroke-width="2"/><text x="186.3" y="38.4" font-size="13" text-anchor="start" fill="#1b1d1f"><tspan font-weight="600" font-size="15">221 km</tspan> half the days</text><line x1="201.9" y1="89" x2="201.9" y2="71.4" stroke="#1b1d1f" stroke-width="1"/><text x="206.9" y="82.4" font-size="13" text-anchor="start" fill="#1b1d1f"><tspan font-weight="600" font-size="15">247 km</tspan> 1 in 10</text><line x1="315.8" y1="89" x2="315.8" y2="49.4" stroke="#5c6166" stroke-width="1" stroke-dasharray="2 3"/><text x="310.8" y="60.4" font-size="13" text-anchor="end" fill="#5c6166"><tspan font-weight="600" font-size="15">386 km</tspan> at 20 °C</text><rect x="1" y="94.5" width="155.2" height="3" fill="#0a5a6e"/><rect x="156.2" y="89" width="45.6" height="14" fill="#0a5a6e"/><rect x="178.3" y="89" width="6" height="14" fill="#ffffff"/><line x1="181.3" y1="89" x2="181.3" y2="104" stroke="#1b1d1f" stroke-width="2"/><line x1="315.8" y1="89" x2="315.8" y2="104" stroke="#5c6166" stroke-width="1" stroke-dasharray="2 3"/><line x1="1" y1="104" x2="335" y2="104" stroke="#1b1d1f" stroke-width="1.25"/><path d="M1 104v13M82.5 104v13M163.9 104v13M245.4 104v13M326.9 104v13" stroke="#1b1d1f"/><path d="M41.7 104v9M123.2 104v9M204.7 104v9M286.1 104v9" stroke="#1b1d1f"/><path d="M9.1 104v5M17.3 104v5M25.4 104v5M33.6 104v5M49.9 104v5M58 104v5M66.2 104v5M74.3 104v5M90.6 104v5M98.8 104v5M106.9 104v5M115 104v5M131.3 104v5M139.5 104v5M147.6 104v5M155.8 104v5M172.1 104v5M180.2 104v5M188.4 104v5M196.5 104v5M212.8 104v5M221 104v5M229.1 104v5M237.2 104v5M253.5 104v5M261.7 104v5M269.8 104v5M278 104v5M294.3 104v5M302.4 104v5M310.6 104v5M318.7 104v5M335 104v5" stroke="#8f959b"/><text x="15.5" y="131" font-size="13" text-anchor="middle" fill="#5c6166">0 km</text><text x="82.5" y="131" font-size="13" text-anchor="middle" fill="#5c6166">100</text><text x="163.9" y="131" font-size="13" text-anchor="middle" fill="#5c6166">200</text><text x="245.4" y="131" font-size="13" text-anchor="middle" fill="#5c6166">300</text><text x="324.8" y="131" font-size="13" text-anchor="middle" fill="#5c6166">400</text><line x1="1" y1="148.8" x2="22.2" y2="148.8" stroke="#1b1d1f" stroke-width="3"/><line x1="1" y1="142.8" x2="1" y2="154.8" stroke="#1b1d1f" stroke-width="1.5"/><line x1="11.6" y1="142.8" x2="11.6" y2="154.8" stroke="#1b1d1f" stroke-width="1.5"/><line x1="22.2" y1="142.8" x2="22.2" y2="154.8" stroke="#1b1d1f" stroke-width="1.5"/><line x1="22.2" y1="148.8" x2="191.6" y2="148.8" stroke="#8f959b" stroke-width="1"/><line x1="43.4" y1="144.8" x2="43.4" y2="152.8" stroke="#8f959b" stroke-width="1"/><line x1="64.5" y1="144.8" x2="64.5" y2="152.8" stroke="#8f959b" stroke-width="1"/><line x1="85.7" y1="144.8" x2="85.7" y2="152.8" stroke="#8f959b" stroke-width="1"/><line x1="106.9" y1="144.8" x2="106.9" y2="152.8" stroke="#8f959b" stroke-width="1"/><line x1="128.1" y1="144.8" x2="128.1" y2="152.8" stroke="#8f959b" stroke-width="1"/><line x1="149.3" y1="144.8" x2="149.3" y2="152.8" stroke="#8f959b" stroke-width="1"/><line x1="170.4" y1="144.8" x2="170.4" y2="152.8" stroke="#8f959b" stroke-width="1"/><line x1="191.6" y1="144.8" x2="191.6" y2="152.8" stroke="#8f959b" stroke-width="1"/><line x1="1" y1="154.8" x2="1" y2="216.4" stroke="#1b1d1f" stroke-width="1"/><text x="6" y="216.4" font-size="13" text-anchor="start" fill="#1b1d1f">home</text><line x1="11.6" y1="154.8" x2="11.6" y2="194.4" stroke="#1b1d1f" stroke-width="1"/><text x="16.6" y="194.4" font-size="13" text-anchor="start" fill="#1b1d1f"><tspan font-weight="600" font-size="15">13 km</tspan> work</text><line x1="22.2" y1="154.8" x2="22.2" y2="172.4" stroke="#1b1d1f" stroke-width="1"/><text x="27.2" y="172.4" font-size="13" text-anchor="start" fill="#1b1d1f"><tspan font-weight="600" font-size="15">26 km</tspan> home again</text></svg>
</div>
<details class="fold screen">
<summary>The distances as a table</summary>
<table class="figures">
<caption class="hidden">The distances as a table</caption>
<tbody>
<tr><th scope="row">nine days in ten, at least</th><td class="number">191 km</td></tr>
<tr><th scope="row">half the days, at least</th><td class="number">221 km</td></tr>
<tr><th scope="row">one day in ten, at least</th><td class="number">247 km</td></tr>
<tr><th scope="row">at 20 °C, half the days, at least</th><td class="number">386 km</td></tr>
</tbody>
</table>
</details>
<p class="why">At 20 °C the same drive would reach 386 km. Most of the extra energy here goes into heating the cabin (56 of 82 Wh/km).</p>
</section>
<div class="rest">
<section aria-labelledby="charging-title">
<h2 id="charging-title">Charging</h2>
<p class="second">From empty, nine days in ten it takes 24 h or less, half the days 22 h 30 min: plugged in at 18:00, charged by 18:00 the next day.</p>
<div class="drawing">
<svg class="ruler wide" xmlns="http://www.w3.org/2000/svg" viewBox="0 0 760 119.2" role="img" aria-labelledby="clock-wide-title clock-wide-desc" fill="none" font-family="''Segoe UI'', Roboto, ''Helvetica Neue'', ''Liberation Sans'', Arial, sans-serif"><title id="clock-wide-title">Time of day while charging</title><desc id="clock-wide-desc">half the days, at most 22 h 30 min, 16:30 the next day; nine days in ten, at most 24 h, 18:00 the next day</desc><line x1="661.1" y1="51" x2="661.1" y2="31" stroke="#1b1d1f" stroke-width="2"/><text x="656.1" y="43.5" font-size="14.5" text-anchor="end" fill="#1b1d1f"><tspan font-weight="600" font-size="17">16:30</tspan> half the days</text><line x1="705.4" y1="51" x2="705.4" y2="6" stroke="#1b1d1f" stroke-width="1"/><text x="700.4" y="18.5" font-size="14.5" text-anchor="end" fill="#1b1d1f"><tspan font-weight="600" font-size="17">18:00</tspan> nine days in ten</text><line x1="1" y1="51" x2="1" y2="31" stroke="#1b1d1f" stroke-width="1"/><text x="6" y="43.5" font-size="14.5" text-anchor="start" fill="#1b1d1f"><tspan font-weight="600" font-size="17">18:00</tspan> plugged in</text><rect x="1" y="56.5" width="639.9" height="3" fill="#0a5a6e"/><rect x="640.9" y="51" width="64.5" height="14" fill="#0a5a6e"/><rect x="658.1" y="51" width="6" height="14" fill="#ffffff"/><line x1="661.1" y1="51" x2="661.1" y2="66" stroke="#1b1d1f" stroke-width="2"/><line x1="1" y1="66" x2="759" y2="66" stroke="#1b1d1f" stroke-width="1.25"/><path d="M1 66v13M88.5 66v13M175.9 66v13M263.4 66v13M350.8 66v13M438.3 66v13M525.8 66v13M613.2 66v13M700.7 66v13" stroke="#1b1d1f"/><path d="" stroke="#1b1d1f"/><path d="M30.2 66v5M59.3 66v5M117.6 66v5M146.8 66v5M205.1 66v5M234.2 66v5M292.5 66v5M321.7 66v5M380 66v5M409.2 66v5M467.5 66v5M496.6 66v5M554.9 66v5M584.1 66v5M642.4 66v5M671.5 66v5M729.8 66v5M759 66v5" stroke="#8f959b"/><text x="19.1" y="94.5" font-size="14.5" text-anchor="middle" fill="#5c6166">18:00</text><text x="88.5" y="94.5" font-size="14.5" text-anchor="middle" fill="#5c6166">21:00</text><text x="175.9" y="94.5" font-size="14.5" text-anchor="middle" fill="#5c6166">00:00</text><text x="175.9" y="112.6" font-size="14.5" text-anchor="middle" fill="#5c6166">day 2</text><text x="263.4" y="94.5" font-size="14.5" text-anchor="middle" fill="#5c6166">03:00</text><text x="350.8" y="94.5" font-size="14.5" text-anchor="middle" fill="#5c6166">06:00</text><text x="438.3" y="94.5" font-size="14.5" text-anchor="middle" fill="#5c6166">09:00</text><text x="525.8" y="94.5" font-size="14.5" text-anchor="middle" fill="#5c6166">12:00</text><text x="613.2" y="94.5" font-size="14.5" text-anchor="middle" fill="#5c6166">15:00</text><text x="700.7" y="94.5" font-size="14.5" text-anchor="middle" fill="#5c6166">18:00</text></svg>
<svg class="ruler narrow" xmlns="http://www.w3.org/2000/svg" viewBox="0 0 336 109.1" role="img" aria-labelledby="clock-narrow-title clock-narrow-desc" fill="none" font-family="''Segoe UI'', Roboto, ''Helvetica Neue'', ''Liberation Sans'', Arial, sans-serif"><title id="clock-narrow-title">Time of day while charging</title><desc id="clock-narrow-desc">half the days, at most 22 h 30 min, 16:30 the next day; nine days in ten, at most 24 h, 18:00 the next day</desc><line x1="291.8" y1="45" x2="291.8" y2="27.4" stroke="#1b1d1f" stroke-width="2"/><text x="286.8" y="38.4" font-size="13" text-anchor="end" fill="#1b1d1f"><tspan font-weight="600" font-size="15">16:30</tspan> half the days</text><line x1="311.4" y1="45" x2="311.4" y2="5.4" stroke="#1b1d1f" stroke-width="1"/><text x="306.4" y="16.4" font-size="13" text-anchor="end" fill="#1b1d1f"><tspan font-weight="600" font-size="15">18:00</tspan> nine days in ten</text><line x1="1" y1="45" x2="1" y2="27.4" stroke="#1b1d1f" stroke-width="1"/><text x="6" y="38.4" font-size="13" text-anchor="start" fill="#1b1d1f"><tspan font-weight="600" font-size="15">18:00</tspan> plugged in</text><rect x="1" y="50.5" width="282" height="3" fill="#0a5a6e"/><rect x="283" y="45" width="28.4" height="14" fill="#0a5a6e"/><rect x="288.8" y="45" width="6" height="14" fill="#ffffff"/><line x1="291.8" y1="45" x2="291.8" y2="60" stroke="#1b1d1f" stroke-width="2"/><line x1="1" y1="60" x2="335" y2="60" stroke="#1b1d1f" stroke-width="1.25"/><path d="M1 60v13M78.1 60v13M155.2 60v13M232.2 60v13M309.3 60v13" stroke="#1b1d1f"/><path d="M39.5 60v9M116.6 60v9M193.7 60v9M270.8 60v9" stroke="#1b1d1f"/><path d="M13.8 60v5M26.7 60v5M52.4 60v5M65.2 60v5M90.9 60v5M103.8 60v5M129.5 60v5M142.3 60v5M168 60v5M180.8 60v5M206.5 60v5M219.4 60v5M245.1 60v5M257.9 60v5M283.6 60v5M296.5 60v5M322.2 60v5M335 60v5" stroke="#8f959b"/><text x="17.2" y="87" font-size="13" text-anchor="middle" fill="#5c6166">18:00</text><text x="78.1" y="87" font-size="13" text-anchor="middle" fill="#5c6166">00:00</text><text x="78.1" y="103.2" font-size="13" text-anchor="middle" fill="#5c6166">day 2</text><text x="155.2" y="87" font-size="13" text-anchor="middle" fill="#5c6166">06:00</text><text x="232.2" y="87" font-size="13" text-anchor="middle" fill="#5c6166">12:00</text><text x="309.3" y="87" font-size="13" text-anchor="middle" fill="#5c6166">18:00</text></svg>
</div>
<details class="fold screen">
<summary>The charging times as a table</summary>
<table class="figures">
<caption class="hidden">The charging times as a table</caption>
<tbody>
<tr><th scope="row">half the days, at most</th><td class="number">22 h 30 min</td><td class="number">16:30 the next day</td></tr>
<tr><th scope="row">nine days in ten, at most</th><td class="number">24 h</td><td class="number">18:00 the next day</td></tr>
</tbody>
</table>
</details>
<p>The outlet sets the pace: it gives 2.3 kW, and the car’s own charger could take 7.4 kW. The meter counts 52.1 kWh; 82 % of it reaches the battery, the rest is lost as heat.</p>
<p>From empty on other outlets, half the days:
Three-phase wall unit, 400 V 16 A <strong>13 h 30 min</strong>.
</p>
</section>
<section aria-labelledby="moves-title">
<h2 id="moves-title">What would help, and what would hurt</h2>
<div class="pair">
<div>
<h3>Would help</h3>
<ul class="plain">
<li>Cabin heating and cooling switched off: about 104 km farther.</li>
<li>Cabin and battery brought to temperature while still plugged in: about 9 km farther.</li>
<li>Seat and wheel heat on and the cabin 3 °C (5 °F) cooler: about 7 km farther.</li>
<li>Driving ten per cent slower: about 7 km farther.</li>
<li>Gentler speeding up and braking: about 4 km farther.</li>
</ul>
</div>
<div>
<h3>Would hurt</h3>
<ul class="plain">
<li>A battery aged to 85 % of its capacity: about 37 km less.</li>
<li>Ten degrees Celsius (18 °F) colder: about 32 km less.</li>
<li>A roof box: about 10 km less.</li>
<li>A wet road: about 10 km less.</li>
<li>Two passengers’ weight more (150 kg, 330 lb): about 8 km less.</li>
<li>A strong breeze of 40 km/h (25 mph): about 7 km less.</li>
<li>Tyres half a bar (7 psi) too soft: about 6 km less.</li>
</ul>
</div>
</div>
</section>
<section aria-labelledby="ledger-title">
<h2 id="ledger-title">Where the energy goes</h2>
<div class="strip">
<div class="drawing">
<svg class="ruler wide" xmlns="http://www.w3.org/2000/svg" viewBox="0 0 760 47" role="img" aria-labelledby="ledger-wide-title ledger-wide-desc" fill="none" font-family="''Segoe UI'', Roboto, ''Helvetica Neue'', ''Liberation Sans'', Arial, sans-serif"><title id="ledger-wide-title">Energy drawn from the battery for each stretch of road, by cause</title><desc id="ledger-wide-desc">Pushing the air aside 46 Wh/km; Rolling the tyres 51 Wh/km; Friction brakes 3 Wh/km; Motor and gears 19 Wh/km; Losses inside the battery 8 Wh/km; Heating the cabin 58 Wh/km; Keeping the battery at temperature 3 Wh/km; Lights, fans and electronics 4 Wh/km</desc><rect x="1" y="2" width="181.1" height="14" fill="#1b1d1f"/><rect x="183.6" y="2" width="198.4" height="14" fill="#1b1d1f"/><rect x="383.5" y="2" width="9.2" height="14" fill="#1b1d1f"/><rect x="394.2" y="2" width="73.1" height="14" fill="#8f959b"/><rect x="468.7" y="2" width="29.7" height="14" fill="#8f959b"/><rect x="500" y="2" width="227.3" height="14" fill="#0a5a6e"/><rect x="728.8" y="2" width="11.2" height="14" fill="#0a5a6e"/><rect x="741.5" y="2" width="16" height="14" fill="#8f959b"/><line x1="614.4" y1="18" x2="614.4" y2="38" stroke="#1b1d1f" stroke-width="1"/><text x="619.4" y="38" font-size="14.5" text-anchor="start" fill="#1b1d1f">heating</text><line x1="283.5" y1="18" x2="283.5" y2="38" stroke="#1b1d1f" stroke-width="1"/><text x="288.5" y="38" font-size="14.5" text-anchor="start" fill="#1b1d1f">tyres</text><line x1="92.3" y1="18" x2="92.3" y2="38" stroke="#1b1d1f" stroke-width="1"/><text x="97.3" y="38" font-size="14.5" text-anchor="start" fill="#1b1d1f">air</text><line x1="431.4" y1="18" x2="431.4" y2="38" stroke="#1b1d1f" stroke-width="1"/><text x="436.4" y="38" font-size="14.5" text-anchor="start" fill="#1b1d1f">motor and gears</text></svg>
<svg class="ruler narrow" xmlns="http://www.w3.org/2000/svg" viewBox="0 0 336 66" role="img" aria-labelledby="ledger-narrow-title ledger-narrow-desc" fill="none" font-family="''Segoe UI'', Roboto, ''Helvetica Neue'', ''Liberation Sans'', Arial, sans-serif"><title id="ledger-narrow-title">Energy drawn from the battery for each stretch of road, by cause</title><desc id="ledger-narrow-desc">Pushing the air aside 46 Wh/km; Rolling the tyres 51 Wh/km; Friction brakes 3 Wh/km; Motor and gears 19 Wh/km; Losses inside the battery 8 Wh/km; Heating the cabin 58 Wh/km; Keeping the battery at temperature 3 Wh/km; Lights, fans and electronics 4 Wh/km</desc><rect x="1" y="2" width="79" height="14" fill="#1b1d1f"/><rect x="81.5" y="2" width="86.6" height="14" fill="#1b1d1f"/><rect x="169.5" y="2" width="3.2" height="14" fill="#1b1d1f"/><rect x="174.2" y="2" width="31.4" height="14" fill="#8f959b"/><rect x="207.1" y="2" width="12.3" height="14" fill="#8f959b"/><rect x="220.9" y="2" width="99.3" height="14" fill="#0a5a6e"/><rect x="321.7" y="2" width="4.1" height="14" fill="#0a5a6e"/><rect x="327.3" y="2" width="6.2" height="14" fill="#8f959b"/><line x1="271.3" y1="18" x2="271.3" y2="35.6" stroke="#1b1d1f" stroke-width="1"/><text x="276.3" y="35.6" font-size="13" text-anchor="start" fill="#1b1d1f">heating</text><line x1="125.5" y1="18" x2="125.5" y2="35.6" stroke="#1b1d1f" stroke-width="1"/><text x="130.5" y="35.6" font-size="13" text-anchor="start" fill="#1b1d1f">tyres</text><line x1="41.2" y1="18" x2="41.2" y2="35.6" stroke="#1b1d1f" stroke-width="1"/><text x="46.2" y="35.6" font-size="13" text-anchor="start" fill="#1b1d1f">air</text><line x1="190.7" y1="18" x2="190.7" y2="57.6" stroke="#1b1d1f" stroke-width="1"/><text x="195.7" y="57.6" font-size="13" text-anchor="start" fill="#1b1d1f">motor and gears</text></svg>
</div>
</div>
<table class="ledger">
<thead><tr><th scope="col">From the battery, on a middling day</th><th scope="col" class="number">Wh/km</th><th scope="col" class="number">Share</th></tr></thead>
<tbody>
<tr><th scope="row">Pushing the air aside</th><td class="number">46</td><td class="number">24 %</td></tr>
<tr><th scope="row">Rolling the tyres</th><td class="number">51</td><td class="number">26 %</td></tr>
<tr><th scope="row">Friction brakes</th><td class="number">3</td><td class="number">1 %</td></tr>
<tr><th scope="row">Motor and gears</th><td class="number">19</td><td class="number">10 %</td></tr>
<tr><th scope="row">Losses inside the battery</th><td class="number">8</td><td class="number">4 %</td></tr>
<tr><th scope="row">Heating the cabin</th><td class="number">58</td><td class="number">30 %</td></tr>
<tr><th scope="row">Keeping the battery at temperature</th><td class="number">3</td><td class="number">2 %</td></tr>
<tr><th scope="row">Lights, fans and electronics</th><td class="number">4</td><td class="number">2 %</td></tr>
</tbody>
<tfoot><tr><th scope="row">Drawn from the battery</th><td class="number">192</td><td class="number">100 %</td></tr></tfoot>
</table>
<p>At the socket that is 235 Wh/km, or 23.5 kWh/100 km.</p>
</section>
<section aria-labelledby="notes-title">
<h2 id="notes-title">Worth knowing</h2>
<ul class="plain">
<li>Below 5 °C (41 °F) the rolling resistance of tyres is extrapolated; the span is wider for it.</li>
<li>A drive from cold takes 28 % more energy than the same distance driven in one go, which warms cabin and tyres once.</li>
</ul>
</section>

</div>
<section class="assumptions" aria-labelledby="assumed-title">
<h2 id="assumed-title">What was assumed</h2>
<details class="fold screen">
<summary>9 values nobody gave, and where each comes from</summary>
<table class="assumed">
<thead><tr><th scope="col">What</th><th scope="col">Value</th><th scope="col">Source</th></tr></thead>
<tbody>
<tr><th scope="row">Label</th><td>reproduced</td><td>by moving no figure by more than 5%</td></tr>
<tr><th scope="row">Wind</th><td>12 km/h</td><td>mean of the monthly winds of data/places.csv is about 14 km/h at 10 m; open-country stations lie above towns: common practice</td></tr>
<tr><th scope="row">Relative humidity</th><td>0.7</td><td>mean of two typical years, TMY3 Chicago O’Hare and Greensboro (70 % each)</td></tr>
<tr><th scope="row">Sunshine on level ground</th><td>160 W/m²</td><td>mean global horizontal irradiance of a typical year, TMY3 Chicago O’Hare (161 W/m2)</td></tr>
<tr><th scope="row">Bearing, brake and oil drag</th><td>15 N</td><td>bearing and brake drag and oil of a car given by drag area and tyres: from memory</td></tr>
<tr><th scope="row">Drag that grows with speed</th><td>1 N s/m</td><td>speed-dependent oil and magnet drag of the same: from memory (B terms of coastdown fits)</td></tr>
<tr><th scope="row">Braking asked of the motor</th><td>0.9</td><td>share of service braking asked of the motor in a blended system: common practice (captured share 60-90 %)</td></tr>
<tr><th scope="row">Efficiency of the onboard charger alone</th><td>0.93</td><td>onboard charger alone 90-95 %: from memory</td></tr>
<tr><th scope="row">Drawn by the car while charging</th><td>200 W</td><td>control units and pump while charging 150-400 W: common practice</td></tr>
</tbody>
</table>
</details>
<p class="paper small">
<span>Label <b>reproduced</b>;</span>
<span>Wind <b>12 km/h</b>;</span>
<span>Relative humidity <b>0.7</b>;</span>
<span>Sunshine on level ground <b>160 W/m²</b>;</span>
<span>Bearing, brake and oil drag <b>15 N</b>;</span>
<span>Drag that grows with speed <b>1 N s/m</b>;</span>
<span>Braking asked of the motor <b>0.9</b>;</span>
<span>Efficiency of the onboard charger alone <b>0.93</b>;</span>
<span>Drawn by the car while charging <b>200 W</b>.</span>
The source of each is on the page this sheet was printed from.
</p>
</section>

<section class="cautions" aria-labelledby="cautions-title">
<h2 id="cautions-title">Before you rely on it</h2>
<ul class="plain">
<li>Estimates only: traffic, driving and weather decide the day.</li>
<li>Circuit work by a licensed electrician, to the local code.</li>
<li>Charge from a dedicated circuit: the load lasts for hours.</li>
<li>No extension leads, no multi-socket leads, no daisy chains.</li>
<li>Stop if the plug or socket is hot, and have it checked.</li>
<li>High voltage: qualified people only. See the car’s handbook.</li>
</ul>
</section><p class="paper stamp">Rangewright · 25 November 2026 · Estimate from a physical model, version 0.2.0</p>
');
INSERT INTO "sheets" VALUES(2,'wJJTuRBgMeE7jFE4ugQYx3zQTP8T2KIV','9906-0190','0.2.0',1795628272,NULL,'kept by a program','At 23 °F, nine days in ten you get at least 21 mi on electricity','{"vehicle":{"id":"compact-plug-in"},"journey":{"cycle":"wltc_class3b"},"weather":{"temperature_c":-5.0},"circuit":{"id":"na-household-15a"}}','','{"model_version":"0.2.0","vehicle":{"id":"compact-plug-in","name":"Compact plug-in hybrid","kind":"phev"},"range_km":{"p10":34.317,"p50":41.179,"p90":46.336},"journey":{"distance_km":23.266,"duration_s":1800.0,"battery_wh_per_km":{"p10":202.83,"p50":228.33,"p90":265.66},"wall_wh_per_km":{"p10":256.0,"p50":288.83,"p90":342.56},"ledger_wh_per_km":{"air":57.694,"rolling":38.057,"climbing":0.0,"brakes":7.5039,"drivetrain":23.523,"pack":22.38,"heating":73.801,"cooling":0.0,"pack_conditioning":0.0,"electronics":5.3726},"arrives_with_pct":{"p10":31.426,"p50":42.265,"p90":48.965},"completed_on_electricity":true},"to_empty":{"distance_km":{"p10":34.317,"p50":41.179,"p90":46.336},"duration_s":3408.4,"battery_wh_per_km":{"p10":192.39,"p50":215.15,"p90":256.7},"wall_wh_per_km":{"p10":244.95,"p50":272.15,"p90":328.87},"ledger_wh_per_km":{"air":50.587,"rolling":37.57,"climbing":0.0,"brakes":11.309,"drivetrain":23.819,"pack":19.118,"heating":66.996,"cooling":0.0,"pack_conditioning":0.0,"electronics":5.7479},"ended_by":"empty"},"charging":{"hours":{"p10":7.5334,"p50":7.7821,"p90":8.0654},"wall_kwh":{"p10":10.848,"p50":11.206,"p90":11.614},"efficiency":0.79376,"limited_by":"circuit","limited_by_sentence":"The outlet sets the pace: it gives 1.4 kW, and the car''s own charger could take 3.3 kW.","power_kw":1.44,"circuit":{"id":"na-household-15a","name":"Household outlet, 120 V 15 A","region":"north_america","volts":120.0,"amps":12.0,"phases":1},"outlets":[{"circuit":{"id":"na-household-15a","name":"Household outlet, 120 V 15 A","region":"north_america","volts":120.0,"amps":12.0,"phases":1},"hours":7.7821},{"circuit":{"id":"na-household-20a","name":"Household outlet, 120 V 20 A","region":"north_america","volts":120.0,"amps":16.0,"phases":1},"hours":5.6061},{"circuit":{"id":"na-dryer-30a","name":"Dryer outlet, 240 V 30 A","region":"north_america","volts":240.0,"amps":24.0,"phases":1},"hours":3.1121},{"circuit":{"id":"na-wall-unit-30a","name":"Wall unit that gives 30 A, 240 V (reference)","region":"north_america","volts":240.0,"amps":30.0,"phases":1},"hours":3.1121},{"circuit":{"id":"na-range-50a","name":"Range outlet, 240 V 50 A","region":"north_america","volts":240.0,"amps":40.0,"phases":1},"hours":3.1121},{"circuit":{"id":"na-hard-wired-60a","name":"Hard-wired wall unit on a 60 A breaker, 240 V","region":"north_america","volts":240.0,"amps":48.0,"phases":1},"hours":3.1121}]},"events":[{"kind":"regeneration_limit","at_s":37.0,"at_km":0.20407,"run_s":54.0,"sentence":"Braking gives back less: the battery is too full or too cold to take it."}],"sensitivities":[{"input":"climate","effect_km":21.212,"sentence":"Cabin heating and cooling switched off"},{"input":"health","effect_km":-8.0153,"sentence":"A battery aged to 85 % of its capacity"},{"input":"temperature","effect_km":-7.1147,"sentence":"Ten degrees Celsius (18 °F) colder"},{"input":"speed","effect_km":2.2972,"sentence":"Driving ten per cent slower"},{"input":"preconditioned","effect_km":1.8594,"sentence":"Cabin brought to temperature while still plugged in"},{"input":"style","effect_km":1.5845,"sentence":"Gentler speeding up and braking"},{"input":"roof_box","effect_km":-1.5516,"sentence":"A roof box"},{"input":"payload","effect_km":-1.3524,"sentence":"Two passengers'' weight more (150 kg, 330 lb)"},{"input":"seat_heat","effect_km":1.3329,"sentence":"Seat and wheel heat on and the cabin 3 °C (5 °F) cooler"},{"input":"surface","effect_km":-1.2518,"sentence":"A wet road"},{"input":"wind","effect_km":-1.2104,"sentence":"A strong breeze of 40 km/h (25 mph)"},{"input":"pressure","effect_km":-1.0326,"sentence":"Tyres half a bar (7 psi) too soft"}],"assumptions":[{"name":"procedure","value":"road","unit":"","source":"the open road, unless a test is asked for"},{"name":"altitude","value":0.0,"unit":"m","source":"sea level, where most people live: common practice"},{"name":"road surface","value":"dry","unit":"","source":"common practice"},{"name":"charge at the start","value":100.0,"unit":"%","source":"charged overnight: common practice"},{"name":"parked at the outside temperature before the start","value":"yes","unit":"","source":"parked until everything is at the temperature of the day: common practice"},{"name":"cabin and pack preheated or cooled at the plug","value":"no","unit":"","source":"nothing warmed or cooled before the start: common practice"},{"name":"battery health","value":100.0,"unit":"%","source":"a new battery"},{"name":"climate control","value":"auto","unit":"","source":"common practice"},{"name":"cabin temperature asked for","value":21.0,"unit":"°C","source":"usual setting of a car''s climate control, 20 to 22 °C: common practice"},{"name":"people in the car","value":1.0,"unit":"people","source":"the driver alone: common practice"},{"name":"fresh air in the cabin","value":"auto","unit":"","source":"as the people and clear windows need it: common practice"},{"name":"seats and wheel heated","value":"no","unit":"","source":"nobody asked for it"},{"name":"load besides people","value":0.0,"unit":"kg","source":"nothing but the people"},{"name":"label","value":"reproduced","unit":"","source":"by moving no figure by more than 5%"},{"name":"wind","value":12.0,"unit":"km/h","source":"mean of the monthly winds of data/places.csv is about 14 km/h at 10 m; open-country stations lie above towns: common practice"},{"name":"relative humidity","value":0.7,"unit":"1","source":"mean of two typical years, TMY3 Chicago O''Hare and Greensboro (70 % each)"},{"name":"sunshine on level ground","value":160.0,"unit":"W/m2","source":"mean global horizontal irradiance of a typical year, TMY3 Chicago O''Hare (161 W/m2)"},{"name":"tyre share of constant road load","value":0.85,"unit":"1","source":"tyre share of the constant term of a coastdown fit; bearings, brakes and oil seals are the rest: common practice"},{"name":"braking asked of the motor","value":0.9,"unit":"1","source":"share of service braking asked of the motor in a blended system: common practice (captured share 60-90 %)"},{"name":"efficiency of the onboard charger alone","value":0.93,"unit":"1","source":"onboard charger alone 90-95 %: from memory"},{"name":"drawn by the car while charging","value":200.0,"unit":"W","source":"control units and pump while charging 150-400 W: common practice"}],"notes":["The distance is driven on electricity alone: starts of the engine for power, speed, heat or upkeep are not modelled, so a journey that needs the engine uses fuel earlier.","Below 5 °C (41 °F) the rolling resistance of tyres is extrapolated; the span is wider for it."]}','<p class="question">
<span class="asked-car"><span class="what">Car</span> Compact plug-in hybrid</span>
<span class="asked-journey"><span class="what">Journey</span> 14 mi test cycle, Mixed, worldwide (WLTC class 3b)</span>
<span class="asked-day"><span class="what">Day</span> 23 °F, dry road</span>
<span class="asked-cabin"><span class="what">Cabin</span> kept at 70 °F, 1 person</span>
<span class="asked-start"><span class="what">Start</span> 100 % charged, parked overnight</span>
<span class="asked-socket"><span class="what">Socket</span> Household outlet, 120 V 15 A</span>
</p>
<section class="first" aria-labelledby="headline">
<h1 id="headline">At 23 °F, nine days in ten you get at least 21 mi on electricity.</h1>
<p class="second">Half the days it is 26 mi or more, one day in ten 29 mi. The 14 mi test cycle, Mixed, worldwide (WLTC class 3b) fits, with 31 % or more of the charge left.</p>
<div class="drawing">
<svg class="ruler wide" xmlns="http://www.w3.org/2000/svg" viewBox="0 0 760 150" role="img" aria-labelledby="range-wide-title range-wide-desc" fill="none" font-family="''Segoe UI'', Roboto, ''Helvetica Neue'', ''Liberation Sans'', Arial, sans-serif"><title id="range-wide-title">Distance in mi</title><desc id="range-wide-desc">nine days in ten, at least 21 mi; half the days, at least 26 mi; one day in ten, at least 29 mi; at 68 °F, half the days, at least 42 mi</desc><line x1="360.2" y1="51" x2="360.2" y2="31" stroke="#1b1d1f" stroke-width="1"/><text x="355.2" y="43.5" font-size="14.5" text-anchor="end" fill="#1b1d1f"><tspan font-weight="600" font-size="17">21 mi</tspan> nine days in ten</text><line x1="432" y1="51" x2="432" y2="6" stroke="#1b1d1f" stroke-width="2"/><text x="427" y="18.5" font-size="14.5" text-anchor="end" fill="#1b1d1f"><tspan font-weight="600" font-size="17">26 mi</tspan> half the days</text><line x1="486" y1="51" x2="486" y2="31" stroke="#1b1d1f" stroke-width="1"/><text x="491" y="43.5" font-size="14.5" text-anchor="start" fill="#1b1d1f"><tspan font-weight="600" font-size="17">29 mi</tspan> one day in ten</text><line x1="711.5" y1="51" x2="711.5" y2="6" stroke="#5c6166" stroke-width="1" stroke-dasharray="2 3"/><text x="706.5" y="18.5" font-size="14.5" text-anchor="end" fill="#5c6166"><tspan font-weight="600" font-size="17">42 mi</tspan> at 68 °F</text><rect x="1" y="56.5" width="359.2" height="3" fill="#0a5a6e"/><rect x="360.2" y="51" width="125.8" height="14" fill="#0a5a6e"/><rect x="429" y="51" width="6" height="14" fill="#ffffff"/><line x1="432" y1="51" x2="432" y2="66" stroke="#1b1d1f" stroke-width="2"/><line x1="711.5" y1="51" x2="711.5" y2="66" stroke="#5c6166" stroke-width="1" stroke-dasharray="2 3"/><line x1="1" y1="66" x2="759" y2="66" stroke="#1b1d1f" stroke-width="1.25"/><path d="M1 66v13M85.2 66v13M169.4 66v13M253.7 66v13M337.9 66v13M422.1 66v13M506.3 66v13M590.6 66v13M674.8 66v13M759 66v13" stroke="#1b1d1f"/><path d="" stroke="#1b1d1f"/><path d="M17.8 66v5M34.7 66v5M51.5 66v5M68.4 66v5M102.1 66v5M118.9 66v5M135.8 66v5M152.6 66v5M186.3 66v5M203.1 66v5M220 66v5M236.8 66v5M270.5 66v5M287.4 66v5M304.2 66v5M321 66v5M354.7 66v5M371.6 66v5M388.4 66v5M405.3 66v5M439 66v5M455.8 66v5M472.6 66v5M489.5 66v5M523.2 66v5M540 66v5M556.9 66v5M573.7 66v5M607.4 66v5M624.2 66v5M641.1 66v5M657.9 66v5M691.6 66v5M708.5 66v5M725.3 66v5M742.2 66v5" stroke="#8f959b"/><text x="15.6" y="94.5" font-size="14.5" text-anchor="middle" fill="#5c6166">0 mi</text><text x="85.2" y="94.5" font-size="14.5" text-anchor="middle" fill="#5c6166">5</text><text x="169.4" y="94.5" font-size="14.5" text-anchor="middle" fill="#5c6166">10</text><text x="253.7" y="94.5" font-size="14.5" text-anchor="middle" fill="#5c6166">15</text><text x="337.9" y="94.5" font-size="14.5" text-anchor="middle" fill="#5c6166">20</text><text x="422.1" y="94.5" font-size="14.5" text-anchor="middle" fill="#5c6166">25</text><text x="506.3" y="94.5" font-size="14.5" text-anchor="middle" fill="#5c6166">30</text><text x="590.6" y="94.5" font-size="14.5" text-anchor="middle" fill="#5c6166">35</text><text x="674.8" y="94.5" font-size="14.5" text-anchor="middle" fill="#5c6166">40</text><text x="751.7" y="94.5" font-size="14.5" text-anchor="middle" fill="#5c6166">45</text><line x1="1" y1="113" x2="244.5" y2="113" stroke="#1b1d1f" stroke-width="3"/><line x1="1" y1="107" x2="1" y2="119" stroke="#1b1d1f" stroke-width="1.5"/><line x1="244.5" y1="107" x2="244.5" y2="119" stroke="#1b1d1f" stroke-width="1.5"/><line x1="1" y1="119" x2="1" y2="139" stroke="#1b1d1f" stroke-width="1"/><text x="6" y="139" font-size="14.5" text-anchor="start" fill="#1b1d1f">start</text><line x1="244.5" y1="119" x2="244.5" y2="139" stroke="#1b1d1f" stroke-width="1"/><text x="249.5" y="139" font-size="14.5" text-anchor="start" fill="#1b1d1f"><tspan font-weight="600" font-size="17">14 mi</tspan> journey&#x27;s end</text></svg>
<svg class="ruler narrow" xmlns="http://www.w3.org/2000/svg" viewBox="0 0 336 182.8" role="img" aria-labelledby="range-narrow-title range-narrow-desc" fill="none" font-family="''Segoe UI'', Roboto, ''Helvetica Neue'', ''Liberation Sans'', Arial, sans-serif"><title id="range-narrow-title">Distance in mi</title><desc id="range-narrow-desc">nine days in ten, at least 21 mi; half the days, at least 26 mi; one day in ten, at least 29 mi; at 68 °F, half the days, at least 42 mi</desc><line x1="159.3" y1="89" x2="159.3" y2="71.4" stroke="#1b1d1f" stroke-width="1"/><text x="154.3" y="82.4" font-size="13" text-anchor="end" fill="#1b1d1f"><tspan font-weight="600" font-size="15">21 mi</tspan> nine days in ten</text><line x1="190.9" y1="89" x2="190.9" y2="49.4" stroke="#1b1d1f" stroke-width="2"/><text x="185.9" y="60.4" font-size="13" text-anchor="end" fill="#1b1d1f"><tspan font-weight="600" font-size="15">26 mi</tspan> half the days</text><line x1="214.7" y1="89" x2="214.7" y2="27.4" stroke="#1b1d1f" stroke-width="1"/><text x="209.7" y="38.4" font-size="13" text-anchor="end" fill="#1b1d1f"><tspan font-weight="600" font-size="15">29 mi</tspan> one day in ten</text><line x1="314.1" y1="89" x2="314.1" y2="5.4" stroke="#5c6166" stroke-width="1" stroke-dasharray="2 3"/><text x="309.1" y="16.4" font-size="13" text-anchor="end" fill="#5c6166"><tspan font-weight="600" font-size="15">42 mi</tspan> at 68 °F</text><rect x="1" y="94.5" width="158.3" height="3" fill="#0a5a6e"/><rect x="159.3" y="89" width="55.4" height="14" fill="#0a5a6e"/><rect x="187.9" y="89" width="6" height="14" fill="#ffffff"/><line x1="190.9" y1="89" x2="190.9" y2="104" stroke="#1b1d1f" stroke-width="2"/><line x1="314.1" y1="89" x2="314.1" y2="104" stroke="#5c6166" stroke-width="1" stroke-dasharray="2 3"/><line x1="1" y1="104" x2="335" y2="104" stroke="#1b1d1f" stroke-width="1.25"/><path d="M1 104v13M75.2 104v13M149.4 104v13M223.7 104v13M297.9 104v13" stroke="#1b1d1f"/><path d="M38.1 104v9M112.3 104v9M186.6 104v9M260.8 104v9M335 104v9" stroke="#1b1d1f"/><path d="M8.4 104v5M15.8 104v5M23.3 104v5M30.7 104v5M45.5 104v5M53 104v5M60.4 104v5M67.8 104v5M82.6 104v5M90.1 104v5M97.5 104v5M104.9 104v5M119.8 104v5M127.2 104v5M134.6 104v5M142 104v5M156.9 104v5M164.3 104v5M171.7 104v5M179.1 104v5M194 104v5M201.4 104v5M208.8 104v5M216.2 104v5M231.1 104v5M238.5 104v5M245.9 104v5M253.4 104v5M268.2 104v5M275.6 104v5M283 104v5M290.5 104v5M305.3 104v5M312.7 104v5M320.2 104v5M327.6 104v5" stroke="#8f959b"/><text x="14" y="131" font-size="13" text-anchor="middle" fill="#5c6166">0 mi</text><text x="75.2" y="131" font-size="13" text-anchor="middle" fill="#5c6166">10</text><text x="149.4" y="131" font-size="13" text-anchor="middle" fill="#5c6166">20</text><text x="223.7" y="131" font-size="13" text-anchor="middle" fill="#5c6166">30</text><text x="297.9" y="131" font-size="13" text-anchor="middle" fill="#5c6166">40</text><line x1="1" y1="148.8" x2="108.3" y2="148.8" stroke="#1b1d1f" stroke-width="3"/><line x1="1" y1="142.8" x2="1" y2="154.8" stroke="#1b1d1f" stroke-width="1.5"/><line x1="108.3" y1="142.8" x2="108.3" y2="154.8" stroke="#1b1d1f" stroke-width="1.5"/><line x1="1" y1="154.8" x2="1" y2="172.4" stroke="#1b1d1f" stroke-width="1"/><text x="6" y="172.4" font-size="13" text-anchor="start" fill="#1b1d1f">start</text><line x1="108.3" y1="154.8" x2="108.3" y2="172.4" stroke="#1b1d1f" stroke-width="1"/><text x="113.3" y="172.4" font-size="13" text-anchor="start" fill="#1b1d1f"><tspan font-weight="600" font-size="15">14 mi</tspan> journey&#x27;s end</text></svg>
</div>
<details class="fold screen">
<summary>The distances as a table</summary>
<table class="figures">
<caption class="hidden">The distances as a table</caption>
<tbody>
<tr><th scope="row">nine days in ten, at least</th><td class="number">21 mi</td></tr>
<tr><th scope="row">half the days, at least</th><td class="number">26 mi</td></tr>
<tr><th scope="row">one day in ten, at least</th><td class="number">29 mi</td></tr>
<tr><th scope="row">at 68 °F, half the days, at least</th><td class="number">42 mi</td></tr>
</tbody>
</table>
</details>
<p class="why">At 68 °F the same drive would reach 42 mi. Most of the extra energy here goes into heating the cabin (103 of 138 Wh/mi).</p>
</section>
<div class="rest">
<section aria-labelledby="charging-title">
<h2 id="charging-title">Charging</h2>
<p class="second">From empty, nine days in ten it takes 8 h 5 min or less, half the days 7 h 45 min: plugged in at 6 pm, charged by 2:05 am the next day.</p>
<div class="drawing">
<svg class="ruler wide" xmlns="http://www.w3.org/2000/svg" viewBox="0 0 760 119.2" role="img" aria-labelledby="clock-wide-title clock-wide-desc" fill="none" font-family="''Segoe UI'', Roboto, ''Helvetica Neue'', ''Liberation Sans'', Arial, sans-serif"><title id="clock-wide-title">Time of day while charging</title><desc id="clock-wide-desc">half the days, at most 7 h 45 min, 1:45 am the next day; nine days in ten, at most 8 h 5 min, 2:05 am the next day</desc><line x1="675.2" y1="51" x2="675.2" y2="31" stroke="#1b1d1f" stroke-width="2"/><text x="670.2" y="43.5" font-size="14.5" text-anchor="end" fill="#1b1d1f"><tspan font-weight="600" font-size="17">1:45 am</tspan> half the days</text><line x1="699.7" y1="51" x2="699.7" y2="6" stroke="#1b1d1f" stroke-width="1"/><text x="694.7" y="18.5" font-size="14.5" text-anchor="end" fill="#1b1d1f"><tspan font-weight="600" font-size="17">2:05 am</tspan> nine days in ten</text><line x1="1" y1="51" x2="1" y2="31" stroke="#1b1d1f" stroke-width="1"/><text x="6" y="43.5" font-size="14.5" text-anchor="start" fill="#1b1d1f"><tspan font-weight="600" font-size="17">6 pm</tspan> plugged in</text><rect x="1" y="56.5" width="652.6" height="3" fill="#0a5a6e"/><rect x="653.6" y="51" width="46.1" height="14" fill="#0a5a6e"/><rect x="672.2" y="51" width="6" height="14" fill="#ffffff"/><line x1="675.2" y1="51" x2="675.2" y2="66" stroke="#1b1d1f" stroke-width="2"/><line x1="1" y1="66" x2="759" y2="66" stroke="#1b1d1f" stroke-width="1.25"/><path d="M1 66v13M87.6 66v13M174.3 66v13M260.9 66v13M347.5 66v13M434.1 66v13M520.8 66v13M607.4 66v13M694 66v13" stroke="#1b1d1f"/><path d="M44.3 66v9M130.9 66v9M217.6 66v9M304.2 66v9M390.8 66v9M477.5 66v9M564.1 66v9M650.7 66v9M737.3 66v9" stroke="#1b1d1f"/><path d="M22.7 66v5M66 66v5M109.3 66v5M152.6 66v5M195.9 66v5M239.2 66v5M282.5 66v5M325.9 66v5M369.2 66v5M412.5 66v5M455.8 66v5M499.1 66v5M542.4 66v5M585.7 66v5M629.1 66v5M672.4 66v5M715.7 66v5M759 66v5" stroke="#8f959b"/><text x="17.3" y="94.5" font-size="14.5" text-anchor="middle" fill="#5c6166">6 pm</text><text x="87.6" y="94.5" font-size="14.5" text-anchor="middle" fill="#5c6166">7 pm</text><text x="174.3" y="94.5" font-size="14.5" text-anchor="middle" fill="#5c6166">8 pm</text><text x="260.9" y="94.5" font-size="14.5" text-anchor="middle" fill="#5c6166">9 pm</text><text x="347.5" y="94.5" font-size="14.5" text-anchor="middle" fill="#5c6166">10 pm</text><text x="434.1" y="94.5" font-size="14.5" text-anchor="middle" fill="#5c6166">11 pm</text><text x="520.8" y="94.5" font-size="14.5" text-anchor="middle" fill="#5c6166">12 am</text><text x="520.8" y="112.6" font-size="14.5" text-anchor="middle" fill="#5c6166">day 2</text><text x="607.4" y="94.5" font-size="14.5" text-anchor="middle" fill="#5c6166">1 am</text><text x="694" y="94.5" font-size="14.5" text-anchor="middle" fill="#5c6166">2 am</text></svg>
<svg class="ruler narrow" xmlns="http://www.w3.org/2000/svg" viewBox="0 0 336 109.1" role="img" aria-labelledby="clock-narrow-title clock-narrow-desc" fill="none" font-family="''Segoe UI'', Roboto, ''Helvetica Neue'', ''Liberation Sans'', Arial, sans-serif"><title id="clock-narrow-title">Time of day while charging</title><desc id="clock-narrow-desc">half the days, at most 7 h 45 min, 1:45 am the next day; nine days in ten, at most 8 h 5 min, 2:05 am the next day</desc><line x1="289.8" y1="45" x2="289.8" y2="27.4" stroke="#1b1d1f" stroke-width="2"/><text x="284.8" y="38.4" font-size="13" text-anchor="end" fill="#1b1d1f"><tspan font-weight="600" font-size="15">1:45 am</tspan> half the days</text><line x1="300.3" y1="45" x2="300.3" y2="5.4" stroke="#1b1d1f" stroke-width="1"/><text x="295.3" y="16.4" font-size="13" text-anchor="end" fill="#1b1d1f"><tspan font-weight="600" font-size="15">2:05 am</tspan> nine days in ten</text><line x1="1" y1="45" x2="1" y2="27.4" stroke="#1b1d1f" stroke-width="1"/><text x="6" y="38.4" font-size="13" text-anchor="start" fill="#1b1d1f"><tspan font-weight="600" font-size="15">6 pm</tspan> plugged in</text><rect x="1" y="50.5" width="279.6" height="3" fill="#0a5a6e"/><rect x="280.6" y="45" width="19.7" height="14" fill="#0a5a6e"/><rect x="286.8" y="45" width="6" height="14" fill="#ffffff"/><line x1="289.8" y1="45" x2="289.8" y2="60" stroke="#1b1d1f" stroke-width="2"/><line x1="1" y1="60" x2="335" y2="60" stroke="#1b1d1f" stroke-width="1.25"/><path d="M1 60v13M75.2 60v13M149.4 60v13M223.7 60v13M297.9 60v13" stroke="#1b1d1f"/><path d="M38.1 60v9M112.3 60v9M186.6 60v9M260.8 60v9M335 60v9" stroke="#1b1d1f"/><path d="M19.6 60v5M56.7 60v5M93.8 60v5M130.9 60v5M168 60v5M205.1 60v5M242.2 60v5M279.3 60v5M316.4 60v5" stroke="#8f959b"/><text x="15.5" y="87" font-size="13" text-anchor="middle" fill="#5c6166">6 pm</text><text x="75.2" y="87" font-size="13" text-anchor="middle" fill="#5c6166">8 pm</text><text x="149.4" y="87" font-size="13" text-anchor="middle" fill="#5c6166">10 pm</text><text x="223.7" y="87" font-size="13" text-anchor="middle" fill="#5c6166">12 am</text><text x="223.7" y="103.2" font-size="13" text-anchor="middle" fill="#5c6166">day 2</text><text x="297.9" y="87" font-size="13" text-anchor="middle" fill="#5c6166">2 am</text></svg>
</div>
<details class="fold screen">
<summary>The charging times as a table</summary>
<table class="figures">
<caption class="hidden">The charging times as a table</caption>
<tbody>
<tr><th scope="row">half the days, at most</th><td class="number">7 h 45 min</td><td class="number">1:45 am the next day</td></tr>
<tr><th scope="row">nine days in ten, at most</th><td class="number">8 h 5 min</td><td class="number">2:05 am the next day</td></tr>
</tbody>
</table>
</details>
<p>The outlet sets the pace: it gives 1.4 kW, and the car’s own charger could take 3.3 kW. The meter counts 11.2 kWh; 79 % of it reaches the battery, the rest is lost as heat.</p>
<p>From empty on other outlets, half the days:
Household outlet, 120 V 20 A <strong>5 h 35 min</strong>;
Dryer outlet, 240 V 30 A or stronger <strong>3 h 5 min</strong>.
</p>
</section>
<section aria-labelledby="moves-title">
<h2 id="moves-title">What would help, and what would hurt</h2>
<div class="pair">
<div>
<h3>Would help</h3>
<ul class="plain">
<li>Cabin heating and cooling switched off: about 13 mi farther.</li>
<li>Driving ten per cent slower: about 1 mi farther.</li>
<li>Cabin brought to temperature while still plugged in: about 1 mi farther.</li>
<li>Gentler speeding up and braking: less than 1 mi farther.</li>
<li>Seat and wheel heat on and the cabin 3 °C (5 °F) cooler: less than 1 mi farther.</li>
</ul>
</div>
<div>
<h3>Would hurt</h3>
<ul class="plain">
<li>A battery aged to 85 % of its capacity: about 5 mi less.</li>
<li>Ten degrees Celsius (18 °F) colder: about 4 mi less.</li>
<li>A roof box: less than 1 mi less.</li>
<li>Two passengers’ weight more (150 kg, 330 lb): less than 1 mi less.</li>
<li>A wet road: less than 1 mi less.</li>
<li>A strong breeze of 40 km/h (25 mph): less than 1 mi less.</li>
<li>Tyres half a bar (7 psi) too soft: less than 1 mi less.</li>
</ul>
</div>
</div>
</section>
<section aria-labelledby="ledger-title">
<h2 id="ledger-title">Where the energy goes</h2>
<div class="strip">
<div class="drawing">
<svg class="ruler wide" xmlns="http://www.w3.org/2000/svg" viewBox="0 0 760 47" role="img" aria-labelledby="ledger-wide-title ledger-wide-desc" fill="none" font-family="''Segoe UI'', Roboto, ''Helvetica Neue'', ''Liberation Sans'', Arial, sans-serif"><title id="ledger-wide-title">Energy drawn from the battery for each stretch of road, by cause</title><desc id="ledger-wide-desc">Pushing the air aside 81 Wh/mi; Rolling the tyres 60 Wh/mi; Friction brakes 18 Wh/mi; Motor and gears 38 Wh/mi; Losses inside the battery 31 Wh/mi; Heating the cabin 108 Wh/mi; Lights, fans and electronics 9 Wh/mi</desc><rect x="1" y="2" width="176.7" height="14" fill="#1b1d1f"/><rect x="179.2" y="2" width="130.9" height="14" fill="#1b1d1f"/><rect x="311.6" y="2" width="38.3" height="14" fill="#1b1d1f"/><rect x="351.4" y="2" width="82.4" height="14" fill="#8f959b"/><rect x="435.4" y="2" width="65.9" height="14" fill="#8f959b"/><rect x="502.7" y="2" width="234.5" height="14" fill="#0a5a6e"/><rect x="738.7" y="2" width="18.8" height="14" fill="#8f959b"/><line x1="620.7" y1="18" x2="620.7" y2="38" stroke="#1b1d1f" stroke-width="1"/><text x="625.7" y="38" font-size="14.5" text-anchor="start" fill="#1b1d1f">heating</text><line x1="90.1" y1="18" x2="90.1" y2="38" stroke="#1b1d1f" stroke-width="1"/><text x="95.1" y="38" font-size="14.5" text-anchor="start" fill="#1b1d1f">air</text><line x1="245.4" y1="18" x2="245.4" y2="38" stroke="#1b1d1f" stroke-width="1"/><text x="240.4" y="38" font-size="14.5" text-anchor="end" fill="#1b1d1f">tyres</text><line x1="393.4" y1="18" x2="393.4" y2="38" stroke="#1b1d1f" stroke-width="1"/><text x="388.4" y="38" font-size="14.5" text-anchor="end" fill="#1b1d1f">motor and gears</text><line x1="469" y1="18" x2="469" y2="38" stroke="#1b1d1f" stroke-width="1"/><text x="474" y="38" font-size="14.5" text-anchor="start" fill="#1b1d1f">battery losses</text></svg>
<svg class="ruler narrow" xmlns="http://www.w3.org/2000/svg" viewBox="0 0 336 66" role="img" aria-labelledby="ledger-narrow-title ledger-narrow-desc" fill="none" font-family="''Segoe UI'', Roboto, ''Helvetica Neue'', ''Liberation Sans'', Arial, sans-serif"><title id="ledger-narrow-title">Energy drawn from the battery for each stretch of road, by cause</title><desc id="ledger-narrow-desc">Pushing the air aside 81 Wh/mi; Rolling the tyres 60 Wh/mi; Friction brakes 18 Wh/mi; Motor and gears 38 Wh/mi; Losses inside the battery 31 Wh/mi; Heating the cabin 108 Wh/mi; Lights, fans and electronics 9 Wh/mi</desc><rect x="1" y="2" width="77" height="14" fill="#1b1d1f"/><rect x="79.5" y="2" width="56.8" height="14" fill="#1b1d1f"/><rect x="137.9" y="2" width="16.1" height="14" fill="#1b1d1f"/><rect x="155.4" y="2" width="35.5" height="14" fill="#8f959b"/><rect x="192.4" y="2" width="28.2" height="14" fill="#8f959b"/><rect x="222.1" y="2" width="102.5" height="14" fill="#0a5a6e"/><rect x="326.1" y="2" width="7.4" height="14" fill="#8f959b"/><line x1="274.1" y1="18" x2="274.1" y2="35.6" stroke="#1b1d1f" stroke-width="1"/><text x="279.1" y="35.6" font-size="13" text-anchor="start" fill="#1b1d1f">heating</text><line x1="40.3" y1="18" x2="40.3" y2="35.6" stroke="#1b1d1f" stroke-width="1"/><text x="45.3" y="35.6" font-size="13" text-anchor="start" fill="#1b1d1f">air</text><line x1="108.7" y1="18" x2="108.7" y2="35.6" stroke="#1b1d1f" stroke-width="1"/><text x="113.7" y="35.6" font-size="13" text-anchor="start" fill="#1b1d1f">tyres</text><line x1="173.9" y1="18" x2="173.9" y2="57.6" stroke="#1b1d1f" stroke-width="1"/><text x="168.9" y="57.6" font-size="13" text-anchor="end" fill="#1b1d1f">motor and gears</text><line x1="207.2" y1="18" x2="207.2" y2="57.6" stroke="#1b1d1f" stroke-width="1"/><text x="212.2" y="57.6" font-size="13" text-anchor="start" fill="#1b1d1f">battery losses</text></svg>
</div>
</div>
<table class="ledger">
<thead><tr><th scope="col">From the battery, on a middling day</th><th scope="col" class="number">Wh/mi</th><th scope="col" class="number">Share</th></tr></thead>
<tbody>
<tr><th scope="row">Pushing the air aside</th><td class="number">81</td><td class="number">24 %</td></tr>
<tr><th scope="row">Rolling the tyres</th><td class="number">60</td><td class="number">17 %</td></tr>
<tr><th scope="row">Friction brakes</th><td class="number">18</td><td class="number">5 %</td></tr>
<tr><th scope="row">Motor and gears</th><td class="number">38</td><td class="number">11 %</td></tr>
<tr><th scope="row">Losses inside the battery</th><td class="number">31</td><td class="number">9 %</td></tr>
<tr><th scope="row">Heating the cabin</th><td class="number">108</td><td class="number">31 %</td></tr>
<tr><th scope="row">Lights, fans and electronics</th><td class="number">9</td><td class="number">3 %</td></tr>
</tbody>
<tfoot><tr><th scope="row">Drawn from the battery</th><td class="number">346</td><td class="number">100 %</td></tr></tfoot>
</table>
<p>At the socket that is 438 Wh/mi, or 2.3 mi/kWh.</p>
</section>
<section aria-labelledby="engine-title">
<h2 id="engine-title">What starts the engine</h2>
<dl class="asked">
<div><dt>With the heater on?</dt><dd>Not for warmth alone: the cabin is heated electrically, and the distance above already pays for it.</dd></div>
<div><dt>When more power is asked for?</dt><dd>Not on this drive at its own pace. Full throttle asks for more than the electric motor (65 kW) gives.</dd></div>
<div><dt>On a very cold morning, for the windscreen, or in another driving mode?</dt><dd>Maybe. Where that begins differs from car to car and is not known for this one; its handbook says.</dd></div>
</dl>
</section>
<section aria-labelledby="notes-title">
<h2 id="notes-title">Worth knowing</h2>
<ul class="plain">
<li>The distance is driven on electricity alone: starts of the engine for power, speed, heat or upkeep are not modelled, so a journey that needs the engine uses fuel earlier.</li>
<li>Below 5 °C (41 °F) the rolling resistance of tyres is extrapolated; the span is wider for it.</li>
<li>Braking gives back less: the battery is too full or too cold to take it.</li>
</ul>
</section>

</div>
<section class="assumptions" aria-labelledby="assumed-title">
<h2 id="assumed-title">What was assumed</h2>
<details class="fold screen">
<summary>21 values nobody gave, and where each comes from</summary>
<table class="assumed">
<thead><tr><th scope="col">What</th><th scope="col">Value</th><th scope="col">Source</th></tr></thead>
<tbody>
<tr><th scope="row">Procedure</th><td>road</td><td>the open road, unless a test is asked for</td></tr>
<tr><th scope="row">Altitude</th><td>0 ft</td><td>sea level, where most people live: common practice</td></tr>
<tr><th scope="row">Road surface</th><td>dry</td><td>common practice</td></tr>
<tr><th scope="row">Charge at the start</th><td>100 %</td><td>charged overnight: common practice</td></tr>
<tr><th scope="row">Parked at the outside temperature before the start</th><td>yes</td><td>parked until everything is at the temperature of the day: common practice</td></tr>
<tr><th scope="row">Cabin and pack preheated or cooled at the plug</th><td>no</td><td>nothing warmed or cooled before the start: common practice</td></tr>
<tr><th scope="row">Battery health</th><td>100 %</td><td>a new battery</td></tr>
<tr><th scope="row">Climate control</th><td>auto</td><td>common practice</td></tr>
<tr><th scope="row">Cabin temperature asked for</th><td>70 °F</td><td>usual setting of a car’s climate control, 20 to 22 °C: common practice</td></tr>
<tr><th scope="row">People in the car</th><td>1 person</td><td>the driver alone: common practice</td></tr>
<tr><th scope="row">Fresh air in the cabin</th><td>auto</td><td>as the people and clear windows need it: common practice</td></tr>
<tr><th scope="row">Seats and wheel heated</th><td>no</td><td>nobody asked for it</td></tr>
<tr><th scope="row">Load besides people</th><td>0 lb</td><td>nothing but the people</td></tr>
<tr><th scope="row">Label</th><td>reproduced</td><td>by moving no figure by more than 5%</td></tr>
<tr><th scope="row">Wind</th><td>7.5 mph</td><td>mean of the monthly winds of data/places.csv is about 14 km/h at 10 m; open-country stations lie above towns: common practice</td></tr>
<tr><th scope="row">Relative humidity</th><td>0.7</td><td>mean of two typical years, TMY3 Chicago O’Hare and Greensboro (70 % each)</td></tr>
<tr><th scope="row">Sunshine on level ground</th><td>160 W/m²</td><td>mean global horizontal irradiance of a typical year, TMY3 Chicago O’Hare (161 W/m2)</td></tr>
<tr><th scope="row">Tyre share of constant road load</th><td>0.85</td><td>tyre share of the constant term of a coastdown fit; bearings, brakes and oil seals are the rest: common practice</td></tr>
<tr><th scope="row">Braking asked of the motor</th><td>0.9</td><td>share of service braking asked of the motor in a blended system: common practice (captured share 60-90 %)</td></tr>
<tr><th scope="row">Efficiency of the onboard charger alone</th><td>0.93</td><td>onboard charger alone 90-95 %: from memory</td></tr>
<tr><th scope="row">Drawn by the car while charging</th><td>200 W</td><td>control units and pump while charging 150-400 W: common practice</td></tr>
</tbody>
</table>
</details>
<p class="paper small">
<span>Procedure <b>road</b>;</span>
<span>Altitude <b>0 ft</b>;</span>
<span>Road surface <b>dry</b>;</span>
<span>Charge at the start <b>100 %</b>;</span>
<span>Parked at the outside temperature before the start <b>yes</b>;</span>
<span>Cabin and pack preheated or cooled at the plug <b>no</b>;</span>
<span>Battery health <b>100 %</b>;</span>
<span>Climate control <b>auto</b>;</span>
<span>Cabin temperature asked for <b>70 °F</b>;</span>
<span>People in the car <b>1 person</b>;</span>
<span>Fresh air in the cabin <b>auto</b>;</span>
<span>Seats and wheel heated <b>no</b>;</span>
<span>Load besides people <b>0 lb</b>;</span>
<span>Label <b>reproduced</b>;</span>
<span>Wind <b>7.5 mph</b>;</span>
<span>Relative humidity <b>0.7</b>;</span>
<span>Sunshine on level ground <b>160 W/m²</b>;</span>
<span>Tyre share of constant road load <b>0.85</b>;</span>
<span>Braking asked of the motor <b>0.9</b>;</span>
<span>Efficiency of the onboard charger alone <b>0.93</b>;</span>
<span>Drawn by the car while charging <b>200 W</b>.</span>
The source of each is on the page this sheet was printed from.
</p>
</section>

<section class="cautions" aria-labelledby="cautions-title">
<h2 id="cautions-title">Before you rely on it</h2>
<ul class="plain">
<li>Estimates only: traffic, driving and weather decide the day.</li>
<li>Circuit work by a licensed electrician, to the local code.</li>
<li>Charge from a dedicated circuit: the load lasts for hours.</li>
<li>No extension leads, no multi-socket leads, no daisy chains.</li>
<li>Stop if the plug or socket is hot, and have it checked.</li>
<li>High voltage: qualified people only. See the car’s handbook.</li>
</ul>
</section><p class="paper stamp">Rangewright · 25 November 2026 · Estimate from a physical model, version 0.2.0</p>
');
CREATE INDEX ix_sheets_expires_at_s ON sheets (expires_at_s);
CREATE INDEX ix_sheets_saved_at_s ON sheets (saved_at_s);
COMMIT;
