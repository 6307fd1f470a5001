## Every word of the program in Spanish: the same keys and placeables as en.ftl, in the same order.
##
## The person is addressed as “usted”, or nobody is. Words chosen once and kept to:
##   plate plancha · stone piedra · print estampa · edition tirada · impression ejemplar · sheet hoja · proof prueba
##   trial, state, cancellation proof: prueba de ensayo, de estado, de cancelación · BAT B.A.T. · to pull sacar
##   to etch acidular · the act and its log acidulación · the liquid mezcla · stock etch solución madre · drops gotas
##   counter-etch desacidulante · gum arabic goma arábiga · to gum engomar · buffed thin and dry alisada fina y seca
##   to roll up entintar · wash-out lavado · talc talco · tusche tinta litográfica · crayon lápiz litográfico
##   press prensa · scraper rasqueta · bed carro · rack estante · container recipiente · bottle frasco · dropper cuentagotas
##   sign-off habilitación (shown demostrada, watched observada, alone a solas) · valid con vigencia · go-ahead visto bueno
##   procedure procedimiento · step paso · rest reposo · slack holgura · sitting sesión · station puesto · late con retraso
##   class clase · term periodo · listing asignatura · due date fecha de entrega · brief enunciado · hand back devolver
##   instructor docente · assistant ayudante · keeper responsable de la escuela · records staff personal de registro académico
##   assessment evaluación · score puntuación · mark nota · grade calificación · weight peso · grace margen
##   safety data sheet ficha de datos de seguridad · local codes normas locales · eyewash lavaojos · waste residuos
##
## Numbers that may have decimals are written by FIGURE, which puts the decimal comma.

## ---- reckon: one clear sentence for bad input ----
reckon-unknown = No existe ningún cálculo llamado «{ $name }». Se conocen: { $known }.
reckon-not-json = La entrada no es el JSON que lee «{ $name }»: { $problem }.

## ---- trade: dates, wall clocks and zones ----
civil-zone-unknown = «{ $field }» es «{ $value }», que no es una zona horaria de la IANA: escriba un nombre como America/New_York.
civil-date-unreadable = «{ $field }» es «{ $value }», que no es una fecha: escriba año, mes y día, como 2026-09-14.
civil-local-unreadable = «{ $field }» es «{ $value }», que no es una fecha y hora local: escríbala como 2026-09-14T17:00.
civil-instant-unreadable = «{ $field }» es «{ $value }», que no es un momento con su desfase horario: escríbalo como 2026-09-14T17:00:00-04:00.

## ---- trade: exact numbers ----
exact-places-bad = El redondeo pide { $value } decimales: pida { $most } como máximo.

## ---- trade: etch ----
measure-unit-imperial = «{ $field }» es «{ $value }», una onza líquida imperial (28,41 mL): escriba us_fl_oz para la estadounidense (29,57 mL), o dé la cantidad en ml.
measure-unit-which-ounce = «{ $field }» es «{ $value }», que puede ser una onza líquida estadounidense, una imperial o un peso: escriba us_fl_oz, o dé la cantidad en ml.
measure-unit-drops = «{ $field }» es «{ $value }», pero una gota no es un volumen fijo: mida en us_fl_oz o ml, y cuente aparte las gotas de ácido.
measure-unit-unknown = «{ $field }» es «{ $value }», una unidad que aquí no se conoce: escriba us_fl_oz o ml.
measure-volume-outside = «{ $field }» es { FIGURE($value) }: dé un volumen mayor que 0 y de { FIGURE($most) } litros como máximo.
measure-baume-outside = «{ $field }» es { FIGURE($value) } grados Baumé: dé de 0 a { FIGURE($most) }.
measure-gravity-outside = «{ $field }» es una densidad relativa de { FIGURE($value) }: dé una de 1 a 2,23.
measure-ph-outside = «{ $field }» es pH { FIGURE($value) }: dé de 0 a 14.
measure-percent-outside = «{ $field }» es { FIGURE($value) } por ciento en peso: dé de 0 a { FIGURE($most) }, como dice el frasco.
measure-phosphoric-too-strong = «{ $field }» es { FIGURE($value) } por ciento, pero las densidades del ácido fosfórico que aquí se conocen acaban en { FIGURE($most) }: mire otra vez el frasco.
measure-nitric-too-strong = «{ $field }» es { FIGURE($value) } por ciento, pero las densidades del ácido nítrico que aquí se conocen acaban en { FIGURE($most) }: mire otra vez el frasco; el ácido fumante no tiene sitio en un taller.
measure-drops-outside = «{ $field }» es { FIGURE($value) }: dé un número entero de gotas, de 0 a { FIGURE($most) }.
measure-dropper-outside = «{ $field }» es { FIGURE($value) }: dé más de 0 y como máximo { FIGURE($most) } gotas por mL, o nada si el cuentagotas no está calibrado.
measure-dropper-spread-outside = «{ $field }» es { FIGURE($value) }: un margen es 0 o más, y menor que las { FIGURE($drops) } gotas por mL a las que pertenece.
measure-dropper-spread-alone = «{ $field }» es { FIGURE($value) }, pero falta «drops_per_ml»: dé los dos, o ninguno si el cuentagotas no está calibrado.
measure-weighing-empty = { FIGURE($drops) } gotas que pesan { FIGURE($value) } g no calibran nada: cuente al menos una gota y dé un peso mayor que 0 g.
measure-weighing-absurd = { FIGURE($drops) } gotas que pesan { FIGURE($value) } g hacen { FIGURE($per_ml) } gotas por mL, y un cuentagotas da de 1 a { FIGURE($most) }: pese en gramos, solo las gotas.
etch-gum-too-thick = «{ $field }» es { FIGURE($value) } grados Baumé, pero la goma arábiga apenas se disuelve más allá de { FIGURE($most) }: mire otra vez el areómetro.
etch-amount-missing = Falta «{ $field }», y esta mezcla lo necesita: dé la cantidad.
etch-kind-unknown = «{ $field }» es «{ $value }»: escriba phosphoric (fosfórico) o nitric (nítrico).
etch-surface-unknown = «{ $field }» es «{ $value }»: escriba plate (plancha) o stone (piedra).
etch-sheets-outside = Se piden { FIGURE($value) } planchas: dé de 1 a { FIGURE($most) }.
etch-margin-outside = Se pide un margen del { FIGURE($value) } por ciento: dé de 0 a { FIGURE($most) }.
etch-dilution-other-acid = Un ácido no puede diluirse para dar otro: elija el mismo.
etch-dilution-stronger = Un ácido al { FIGURE($stock) } por ciento no puede diluirse al { FIGURE($wanted) } por ciento: pida menos de lo que tiene el frasco y más de 0.
etch-dilution-of-nothing = Según lo indicado, el frasco tiene ácido al { FIGURE($stock) } por ciento: no hay nada que diluir.
etch-ph-measured = pH { FIGURE($ph) }, medido
etch-ph-of-gum = pH { FIGURE($ph) }, el indicado para la goma
etch-ph-estimated = pH aproximado { FIGURE($ph) } (de { FIGURE($low) } a { FIGURE($high) }), una estimación
etch-no-ph-gum-sour = No se estima el pH: la goma está marcada como agria y contiene ácidos que nadie ha contado. Mídalo.
etch-no-ph-gum-ph-untold = No se estima el pH: no se ha indicado el pH de la goma. Mídalo.
etch-no-ph-gum-baume-untold = No se estima el pH: no se han indicado los grados Baumé de la goma. Mida el pH.
etch-no-ph-gum-not-plain = No se estima el pH: la goma pura no tiene el pH que se indica para esta, así que lleva algo más. Mida el pH.
etch-no-ph-acid-untold = No se estima el pH: no se ha indicado la concentración del ácido. Mídalo.
etch-no-ph-stock = No se estima el pH de una solución madre: aquí no se sabe qué contiene. Mídalo.
etch-no-ph-stock-cut = No se estima el pH de una solución madre rebajada con goma: aquí no se sabe qué contiene. Mídalo.
etch-caution-protect = Use guantes, gafas de protección y delantal. La ficha de datos de seguridad, las normas locales y la oficina de seguridad de la escuela van antes que todo lo que aquí se dice.
etch-caution-acid-into-gum = Eche el ácido gota a gota en la goma, nunca goma ni agua sobre el ácido, y mezcle lejos de la plancha.
etch-caution-bottle-burns = El frasco contiene ácido al { FIGURE($percent) } %, que quema la piel y los ojos.
etch-caution-bottle-irritates = El frasco contiene ácido al { FIGURE($percent) } %, que irrita la piel y los ojos.
etch-caution-nitric-fumes = El ácido nítrico desprende vapores nocivos y aviva el fuego: úselo bajo la campana, lejos de disolventes, trapos y metales.
etch-caution-nitric-on-aluminium = El ácido nítrico es para piedras; para el aluminio la práctica común emplea ácido fosfórico. Pregunte al docente.
etch-caution-eyewash-bottle = Sepa por dónde se va al lavaojos y a la ducha antes de abrir el frasco: NIOSH pide ambos donde se maneja ácido fosfórico por encima del 1,6 %, y el frasco contiene ácido al { FIGURE($percent) } %.
etch-caution-eyewash-nitric = Sepa por dónde se va al lavaojos y a la ducha antes de abrir el frasco de ácido nítrico ({ FIGURE($percent) } %).
etch-caution-eyewash-mixture = La propia mezcla contiene ácido al { FIGURE($percent) } % en peso, por encima del 1,6 % a partir del cual NIOSH pide lavaojos y ducha.
etch-caution-corrosive-measured = Con pH { FIGURE($ph) } la mezcla se considera corrosiva: a 2 o menos el SGA la toma por tal, salvo que los ensayos demuestren otra cosa.
etch-caution-corrosive-estimated = El pH estimado llega a 2 o menos, donde el SGA toma una mezcla por corrosiva, salvo que los ensayos demuestren otra cosa.
etch-caution-dropper-not-calibrated = El cuentagotas no está calibrado, así que se suponen 25 gotas por mL, 8 más o menos. Pese unas gotas de este ácido para saberlo mejor.
etch-caution-gum-ph-unusual = Se indica que la goma tiene pH { FIGURE($ph) }; las soluciones de goma publicadas están entre 3,9 y 5,5. Compruebe si se ha agriado.
etch-caution-estimate-only = El pH es una estimación, no una medición: pruebe la mezcla con una tira o un medidor. Su error es común a todas las mezclas de una misma goma y un mismo frasco; dentro de un lote, compare por gotas.
etch-caution-destroys-measured = Con pH { FIGURE($ph) } esto destruye el dibujo: por debajo de 1,5 el líquido actúa sobre el aluminio como un desacidulante y arranca la fina capa superior, la única que retiene la imagen. No lo acerque a la plancha y pregunte al docente.
etch-caution-destroys-estimated = Según la estimación, esto destruye el dibujo: su pH está por debajo de 1,5, donde el líquido actúa sobre el aluminio como un desacidulante y arranca la fina capa superior, la única que retiene la imagen. No lo acerque a la plancha y pregunte al docente.
etch-caution-may-destroy = El pH estimado llega a menos de 1,5, donde el líquido actúa sobre el aluminio como un desacidulante y arranca la fina capa superior, la única que retiene la imagen. Mida el pH antes de que toque la plancha.
etch-caution-window-measured = El pH { FIGURE($ph) } queda fuera de { FIGURE($low) } a { FIGURE($high) }, el intervalo con que trabaja esta clase. Pregunte al docente.
etch-caution-window-estimated = Según la estimación, el pH queda fuera de { FIGURE($low) } a { FIGURE($high) }, el intervalo con que trabaja esta clase. Mídalo y pregunte al docente.

## ---- trade: grading and lateness ----
grading-weights-sum = Los pesos de las categorías suman { FIGURE($value) }: cámbielos para que hagan exactamente 100.
grading-weight-negative = El peso de «{ $category }» es { FIGURE($value) }: un peso es 0 o más.
grading-points-bad = «{ $item }», en «{ $category }», tiene { FIGURE($value) } puntos: dele más de 0, o márquelo como puntos extra.
grading-score-negative = La puntuación de «{ $item }», en «{ $category }», es { FIGURE($value) }: una puntuación es 0 o más.
grading-score-above-points = La puntuación de «{ $item }», en «{ $category }», es { FIGURE($value) }, por encima de sus { FIGURE($points) } puntos: corríjala, o márquelo como puntos extra.
grading-score-absent = «{ $item }», en «{ $category }», está calificado pero no tiene puntuación: dela, o indique que aún no está calificado (pending).
grading-lateness-twice = «{ $item }» indica a la vez days_late { FIGURE($days) } y hours_late { FIGURE($hours) }: dé uno de los dos.
grading-hours-late-negative = «{ $item }», en «{ $category }», lleva { FIGURE($value) } horas de retraso: un trabajo a tiempo lleva 0 horas.
grading-late-percent-bad = El descuento por retraso es del { FIGURE($value) } por ciento al día: va de 0 a 100.
grading-grace-negative = El margen es de { FIGURE($value) } horas: es 0 o más.
grading-scale-letter-blank = Una letra de la escala, desde { FIGURE($from) } por ciento, está en blanco: escríbala.
grading-scale-letter-twice = La escala tiene dos veces la letra «{ $letter }», la segunda desde { FIGURE($from) } por ciento: cada letra tiene un solo lugar.
grading-scale-out-of-range = La letra «{ $letter }» empieza en { FIGURE($from) } por ciento: una letra empieza entre 0 y 100.
grading-scale-out-of-order = La escala está desordenada: «{ $letter }», desde { FIGURE($from) } por ciento, está debajo de «{ $above }», desde { FIGURE($above_from) }; ponga las letras de la más alta a la más baja.
grading-scale-gap = La escala tiene un hueco: por debajo de «{ $letter }», desde { FIGURE($from) } por ciento, no hay letra; haga que la más baja empiece en 0.
grading-letter-points-negative = La letra «{ $letter }» vale { FIGURE($value) } puntos de promedio: son 0 o más.
grading-letter-points-twice = La letra «{ $letter }» tiene dos veces puntos de promedio, la segunda { FIGURE($value) }: delos una sola vez.
grading-letter-without-points = La letra «{ $letter }» de «{ $course }» no tiene puntos de promedio: deje fuera las materias cursadas como aprobado o de oyente.
grading-credits-negative = «{ $course }» lleva { FIGURE($value) } créditos: son 0 o más.
grading-line-excused = «{ $item }» está exento: no cuenta.
grading-line-pending = «{ $item }» aún no está calificado: todavía no cuenta.
grading-line-missing-zero = «{ $item }» no se entregó: 0 de { FIGURE($points) } puntos.
grading-line-missing-left-out = «{ $item }» no se entregó: no cuenta.
grading-line-in-grace = «{ $item }» llegó { FIGURE($hours) } horas después del plazo, dentro del margen de { FIGURE($grace) }: no se descuenta nada.
grading-line-too-late = «{ $item }» llegó con { $days ->
    [one] 1 día
   *[other] { $days } días
} de retraso, más de los { FIGURE($most) } admitidos: 0 de { FIGURE($points) } puntos.
grading-line-late-possible = «{ $item }» llegó con { $days ->
    [one] 1 día
   *[other] { $days } días
} de retraso: { $days } × { FIGURE($percent) } % de los { FIGURE($points) } puntos posibles descuenta { FIGURE($off) }, { FIGURE($score) } − { FIGURE($off) } = { FIGURE($left) }.
grading-line-late-earned = «{ $item }» llegó con { $days ->
    [one] 1 día
   *[other] { $days } días
} de retraso: { $days } × { FIGURE($percent) } % de los { FIGURE($score) } puntos obtenidos descuenta { FIGURE($off) }, { FIGURE($score) } − { FIGURE($off) } = { FIGURE($left) }.
grading-line-late-all-gone = «{ $item }» llegó con { $days ->
    [one] 1 día
   *[other] { $days } días
} de retraso: { $days } × { FIGURE($percent) } % de { FIGURE($base) } puntos descuenta { FIGURE($off) }, más que los { FIGURE($score) } que tiene: quedan 0.
grading-line-extra-credit = «{ $item }» da puntos extra: su puntuación se suma y sus { FIGURE($points) } puntos no se exigen.
grading-line-dropped = «{ $item }» ({ FIGURE($score) } de { FIGURE($points) }) se descarta: sin él el resultado es el mejor.
grading-line-drops-all = { $category }: se pueden descartar hasta { $drops }, y por ahora no cuentan más de { $count }, así que al menos una se queda.
grading-line-category = { $category }: ({ FIGURE($scores) }) ÷ ({ FIGURE($points) }) = { FIGURE($earned) } ÷ { FIGURE($asked) } { $equals } { FIGURE($percent) } %.
grading-line-category-of-one = { $category }: { FIGURE($earned) } ÷ { FIGURE($asked) } { $equals } { FIGURE($percent) } %.
grading-line-category-empty = { $category }: todavía no cuenta nada; su peso del { FIGURE($weight) } % se reparte en proporción entre las demás categorías.
grading-line-nothing-counted = Todavía no cuenta nada, así que no hay porcentaje ni letra.
grading-line-total = Total: ({ FIGURE($products) }) ÷ ({ FIGURE($weights) }) = { FIGURE($percent) } %.
grading-line-total-shortened = Total: ({ FIGURE($products) }) ÷ ({ FIGURE($weights) }) ≈ { FIGURE($percent) } %. Se muestra con cuatro decimales y se calcula sin redondear.
grading-line-weight = Esto sale del { FIGURE($weight) } % del peso.
grading-line-rounded-half-up = { FIGURE($percent) } % redondeado { $places ->
    [0] a un número entero
    [one] a 1 decimal
   *[other] a { $places } decimales
}, los empates hacia arriba: { FIGURE($rounded) } %.
grading-line-rounded-half-even = { FIGURE($percent) } % redondeado { $places ->
    [0] a un número entero
    [one] a 1 decimal
   *[other] a { $places } decimales
}, los empates a la cifra par: { FIGURE($rounded) } %.
grading-line-rounded-truncate = { FIGURE($percent) } % cortado { $places ->
    [0] en el número entero
    [one] a 1 decimal
   *[other] a { $places } decimales
}: { FIGURE($rounded) } %.
grading-line-letter = { FIGURE($rounded) } es al menos { FIGURE($from) }: { $letter }.
grading-line-possible = Con todo lo que aún no está calificado a 0 puntos sería el { FIGURE($low) } %; con todo ello al máximo que aún puede dar, el { FIGURE($high) } %.

## ---- trade: agreement ----
agreement-rows-uneven = La fila { $row } tiene { FIGURE($has) } valores y la primera { FIGURE($wanted) }: dé a todas las filas el mismo número.
agreement-not-square = La tabla tiene { $rows } filas de { $columns } celdas y hacen falta { FIGURE($wanted) } de { FIGURE($wanted) }: dé una fila y una columna para cada categoría.
agreement-cell-negative = Una celda de la tabla es { FIGURE($value) }: los recuentos y los pesos son 0 o más.
agreement-nothing-rated = No se valoró nada: dé al menos un par de valoraciones.
agreement-category-unknown = La valoración «{ $value }» no es ninguna de las categorías: corríjala, o añada la categoría.
agreement-category-twice = La categoría «{ $value }» aparece dos veces: póngala una sola.
agreement-categories-unordered = Los pesos necesitan el orden de las categorías, y «{ $value }» no es un número: ponga las categorías de un extremo al otro.
agreement-ratings-unpaired = La primera persona dio { $first } valoraciones y la segunda { $second }: dé una de cada una para todo lo valorado.
agreement-ratings-or-table = Kappa se calcula o bien con «table» o bien con «first» y «second»: dé uno de los dos.
agreement-categories-without-ratings = «categories» va con «first» y «second»: una tabla tiene su propio orden.
agreement-weight-of-agreement = El peso de una coincidencia es { FIGURE($value) }: la diagonal de los pesos es 0.
agreement-ratio-negative = La valoración { FIGURE($value) } es menor que 0, lo que no existe en una escala de razón: corríjala, o use el nivel interval.
agreement-words-not-nominal = La valoración «{ $value }» es una palabra, y el nivel { $level } necesita números: use el nivel nominal, o numere las valoraciones.
agreement-too-few-scores = Hay puntuaciones de { $persons } personas en { $items } elementos: dos de cada es lo mínimo.
agreement-line-shares = Las dos coinciden en una proporción de { FIGURE($observed) }; el solo azar daría { FIGURE($expected) }.
agreement-line-shares-weighted = Contando en parte lo que se acerca, las dos coinciden en una proporción de { FIGURE($observed) }; el solo azar daría { FIGURE($expected) }.
agreement-line-kappa = Kappa = ({ FIGURE($observed) } − { FIGURE($expected) }) ÷ (1 − { FIGURE($expected) }) { $equals } { FIGURE($value) }.
agreement-line-kappa-none = Las dos personas usan una sola categoría, así que el azar ya coincide del todo y kappa no tiene valor.
agreement-line-units = { $units ->
    [one] 1 unidad tiene
   *[other] { $units } unidades tienen
} dos o más valoraciones, { $values } valoraciones en total; las demás unidades quedan fuera.
agreement-line-krippendorff = Alfa = 1 − { FIGURE($observed) } ÷ { FIGURE($expected) } { $equals } { FIGURE($value) }, a partir del desacuerdo visto y el del azar.
agreement-line-krippendorff-none = Las valoraciones que se pueden comparar no difieren en nada, así que el azar no puede discrepar y alfa no tiene valor.
agreement-line-cronbach = Alfa = { $items } ÷ ({ $items } − 1) × (1 − { FIGURE($parts) } ÷ { FIGURE($total) }) { $equals } { FIGURE($value) }, a partir de las varianzas de los elementos y de los totales.
agreement-line-cronbach-none = Todas las personas tienen el mismo total, así que alfa no tiene valor.

## ---- trade: planning ----
planning-time-unreadable = «{ $field }» es «{ $value }», que no es una hora del día: escriba horas y minutos como 09:00; 24:00 es el final del día.
planning-day-unknown = «{ $field }» es «{ $value }», que no es un día de la semana: escriba mon, tue, wed, thu, fri, sat o sun.
planning-opening-backwards = «{ $field }» abre de { $from } a { $to }, así que acaba antes de empezar: un horario que pasa de medianoche son dos, uno hasta las 24:00 y otro desde las 00:00.
planning-never-open = «open» no contiene ningún horario, así que ningún paso puede hacerse: añada uno, o deje «open» en null para un taller siempre abierto.
planning-closed-throughout = De { $from } a { $to } todos los horarios caen en días cerrados: abra uno de esos días o mueva la fecha de entrega.
planning-extra-on-closed = La apertura extra del { $date } no cuenta porque ese día está cerrado: quite el cierre si el taller abre al final.
planning-due-before-start = «due» es { $due }, anterior a «start», { $start }: dé una fecha de entrega posterior al comienzo.
planning-span-too-long = De { $start } a { $due } hay más de { $most } días: mire si hay un error en un año.
planning-no-steps = «steps» está vacío: dé al menos un paso.
planning-steps-too-many = «steps» contiene { $count } pasos: { $most } es el máximo.
planning-step-twice = Dos pasos se llaman «{ $step }»: dé a cada uno su propia clave.
planning-after-unknown = El paso «{ $step }» va después de «{ $value }», pero ningún paso tiene esa clave: corrija «after» o añada el paso.
planning-circle = Estos pasos se esperan en círculo, cada uno al que le sigue: { $steps }. Quite uno de los nombres de su «after».
planning-minutes-outside = «{ $field }» del paso «{ $step }» es { $value }: dé minutos enteros, 0 o más.
planning-minutes-too-many = El paso «{ $step }» tiene { $value } minutos; { $most } (un año) es el máximo: mire si hay un error.
planning-rests-contradict = El paso «{ $step }» reposa { $minimum } minutos como mínimo y { $maximum } como máximo, y ambas cosas no pueden cumplirse: cambie una de las dos.
planning-breaks-due = El paso «{ $step }» es el primero que no puede acabar antes de { $due }: empiece antes, acorte un paso o un reposo, o mueva la fecha de entrega.
planning-breaks-no-place = El paso «{ $step }» no tiene sitio: ningún horario abarca sus { $minutes } minutos. Permita dividirlo, o abra más tiempo.
planning-press-span-backwards = «to» no es posterior a «from»: dé un intervalo que acabe después de empezar.
planning-press-span-too-long = De «from» a «to» hay más de { $most } días: mire si hay un error en un año.
planning-press-work-unclear = Dé o bien «prints» y «steps», para estampas todas iguales, o bien «work», una lista de estampas con sus propios pasos: ni ambas cosas ni ninguna.
planning-press-sheets-with-work = «sheets» junto a «work» no significa nada: dé a cada estampa de «work» su propio «sheets».
planning-prints-count = Se piden { $count } estampas: dé al menos 1 y como máximo { $most }.
planning-print-twice = Dos estampas se llaman «{ $print }»: dé a cada una su propio nombre.
planning-station-count = «count» del puesto «{ $station }» es { $count }: dé al menos 1 unidad y como máximo { $most }.
planning-station-twice = Dos puestos se llaman «{ $station }»: cuente sus unidades juntas con un solo nombre.
planning-station-unknown = «{ $field }» es «{ $value }», pero ningún puesto tiene ese nombre. Se conocen: { $known }.
planning-station-missing = El paso «{ $step }» está en un puesto que no figura en la lista: añada el puesto.
planning-two-longest-rests = El paso «{ $step }» tiene «max_wait_minutes» y «same_day» a la vez: quite uno de los dos.
planning-instructor-anywhere = El paso «{ $step }» se hace a la vez con quien enseña y en cualquier parte: quite una de las dos cosas.
planning-step-in-two-places = El paso «{ $step }» está a la vez en un puesto y en cualquier parte: quite una de las dos cosas.
planning-unit-unknown = La unidad { $unit } del puesto «{ $station }» no funciona, pero sus unidades se cuentan de 1 a { $count }.
planning-unit-outside = «{ $field }» es { $value }: las unidades se cuentan desde 1.
planning-count-outside = «{ $field }» es { $value }: dé un número entero de 0 a { $most }.
planning-down-backwards = La unidad { $unit } del puesto «{ $station }» deja de funcionar hasta una hora que no es posterior a la del comienzo: cambie las dos de lugar.
planning-pieces-too-short = Los minutos alcanzarían, pero lo que queda está en trozos demasiado cortos, demasiado tarde o en un puesto que no sirve para los pasos de una estampa.
planning-rest-broken = El paso «{ $step }» empezaría { $minutes } minutos después del anterior, más tarde de lo que permite su reposo máximo ({ $by }). El reposo se cumple si el anterior no acaba antes de { $hold }.

## ---- trade: procedure ----
procedure-not-json = El procedimiento no se puede leer: { $problem }. Arregle ese punto, o empiece de nuevo con un procedimiento incluido en el programa.

procedure-unknown-step = Este procedimiento no tiene ningún paso «{ $step }». Elija uno de sus pasos, o pida al docente que lo añada.
procedure-unsettled = { $step } espera: «{ $earlier }» se hizo fuera de las reglas, y un docente tiene que resolverlo.
procedure-under-way-itself = { $step } ya está en marcha. Termínelo antes de empezarlo otra vez.
procedure-under-way-other = { $step } espera: «{ $other }» sigue en marcha. Termínelo primero.
procedure-ended = { $step } no puede hacerse después de «{ $end }».
procedure-order = { $step } va después de «{ $before }», que no está hecho. Eso va primero, salvo que un docente lo permita una vez.
procedure-after-any-of = { $step } necesita que antes se haya hecho uno de estos: { $of }.
procedure-requires-since = { $step } necesita uno de estos, hecho después del último «{ $since }»: { $of }.
procedure-once = { $step } se hace una sola vez, y ya está hecho.
procedure-rest = { $step } va después de un reposo de { $rest }; faltan { $left }. Espere hasta entonces.
procedure-sign-off-missing = { $step } requiere la habilitación «{ $topic }», { $grade ->
    [shown] demostrada
    [watched] observada
   *[alone] para trabajar a solas
  }. Tiene que firmarla alguien que la da.
procedure-sign-off-withdrawn = { $step } requiere la habilitación «{ $topic }», que se retiró. Quien la retiró dice qué hay que hacer de nuevo.
procedure-sign-off-expired = { $step } requiere la habilitación «{ $topic }», que tuvo vigencia hasta { $day }. Tiene que renovarla alguien que la da.
procedure-sign-off-grade = { $step } requiere la habilitación «{ $topic }», { $grade ->
    [shown] demostrada
    [watched] observada
   *[alone] para trabajar a solas
  }; por ahora es { $held ->
    [shown] solo demostrada
    [watched] solo observada
   *[alone] para trabajar a solas
  }. Tiene que firmarla alguien que la da.

procedure-advised-rest = Se aconseja un reposo de { $rest } antes de { $step }; faltan { $left }. Es un consejo, no una regla.
procedure-longest-rest-near = { $step } debería seguir en un plazo de { $limit }; quedan { $left }.
procedure-longest-rest-passed = { $step } debería haber seguido en un plazo de { $limit }; eso fue hace { $over }.
procedure-same-day-ends = { $step } corresponde al mismo día, { $day }. Si hoy no puede hacerse: talco, goma, alisarla fina y seca.
procedure-same-day-passed = { $step } correspondía a { $day }, y ese día ha pasado.
procedure-gum-near = Lleva bajo goma casi { $limit }, el límite de la clase; quedan { $left }. Engome otra vez, o siga.
procedure-gum-passed = Lleva bajo goma { $over } más que { $limit }, el límite de la clase. Pregunte antes de seguir; lave y engome otra vez.

procedure-caution-acid = El ácido quema la piel y los ojos. Gafas de protección, guantes para ácido, delantal; el ácido en la goma o en el agua, nunca al revés. Piel u ojos: enjuague 15 minutos en el lavaojos y llame a quien esté de guardia. La ficha de datos de seguridad, las normas locales y la oficina de seguridad van primero.
procedure-caution-nitric = El ácido nítrico quema, oxida y desprende vapores venenosos. Campana, pantalla facial, guantes para ácido, delantal; el ácido en la goma o en el agua, nunca al revés; lejos de disolventes y trapos. Piel u ojos: enjuague 15 minutos en el lavaojos y llame a quien esté de guardia. La ficha de datos de seguridad, las normas locales y la oficina de seguridad van primero.
procedure-caution-solvent = El vapor de disolvente es nocivo y puede inflamarse. Campana encendida, guantes para disolvente, ninguna llama; los trapos, enseguida al cubo metálico cerrado. La ficha de datos de seguridad, las normas locales y la oficina de seguridad van primero.
procedure-caution-press = La prensa puede aplastar. Pelo, mangas y cordones recogidos, anillos fuera, ninguna mano más allá de la rasqueta mientras el carro se mueve, topes del carro puestos. Las instrucciones del fabricante, las normas locales y la oficina de seguridad van primero.
procedure-caution-dust = No respire polvo. Trabaje en húmedo donde pueda, espolvoree con suavidad, use la mascarilla que indique su escuela. La ficha de datos de seguridad, las normas locales y la oficina de seguridad van primero.
procedure-caution-lifting = Las piedras pesan. Dos personas o el elevador, calzado cerrado, los dedos lejos del canto. Las normas locales y la oficina de seguridad van primero.

procedure-brought-no-object = El archivo no contiene un procedimiento. Envíe uno tal como se saca de aquí: un archivo JSON con nombre (name), superficie (surface) y pasos (steps).
procedure-brought-whole = El procedimiento no se puede leer: { $problem }. Arréglelo y envíe otra vez el archivo.
procedure-brought-step = { $step } (en «{ $list }») no se puede leer: { $problem }. Arréglelo y envíe otra vez el archivo.
procedure-brought-field = { $step } (en «{ $list }»): el campo «{ $field }» no se puede leer: { $problem }. Arréglelo y envíe otra vez el archivo.
procedure-brought-control = { $step }: el campo «{ $field }» contiene caracteres de control. Quítelos y envíe otra vez el archivo.
procedure-brought-control-whole = El campo «{ $field }» contiene caracteres de control. Quítelos y envíe otra vez el archivo.
procedure-check-name = El nombre del procedimiento es «{ $value }»: escriba uno de hasta { $longest } caracteres.
procedure-check-no-steps = El procedimiento no tiene pasos: añada al menos uno.
procedure-check-many-steps = El procedimiento tiene { $value } pasos: no pase de { $most }, o haga de él dos procedimientos.
procedure-check-gum-limit = El límite bajo goma es de { $value } minutos: escriba de 1 a { $longest }, o déjelo vacío.
procedure-check-numbers-twice = { $step }: otro paso ya numera la tirada. Que lo haga un solo paso.
procedure-check-numbers-early = { $step } numera la tirada, pero no va después de ningún paso que registre hojas: ponga antes el paso que las estampa.
procedure-check-empty = { $step }: está vacío { $field ->
    [title] el título
    [before] una frase de antes del paso
    [during] una frase de durante el paso
    [after] una frase de después del paso
    [station] el puesto
    [picture] el nombre de una imagen
    [caption] el pie de una imagen
   *[because] un motivo
  }. Escríbalo, o quítelo.
procedure-check-too-long = { $step }: { $field ->
    [title] el título
    [before] una frase de antes del paso
    [during] una frase de durante el paso
    [after] una frase de después del paso
    [station] el puesto
    [picture] el nombre de una imagen
    [caption] el pie de una imagen
   *[because] un motivo
  } «{ $value }» tiene { $long } caracteres. No pase de { $longest }.
procedure-check-minutes = { $step }: { $field ->
    [minutes] el tiempo de trabajo
    [minutes-per-sheet] el tiempo por hoja
    [rest-minimum] el reposo mínimo
    [rest-advised] el reposo aconsejado
    [rest-maximum] el reposo máximo
   *[recording-minute] el minuto de la grabación
  } es de { $value } minutos. Escriba de 0 a { $longest } ({ $said }).
procedure-check-key = { $step }: «{ $value }» no puede ser una clave ni una palabra. Use hasta 40 letras minúsculas, cifras y guiones, como first-etch; «gummed» está ocupada.
procedure-check-key-twice = { $step }: otro paso ya tiene la clave «{ $value }». Dé a cada uno la suya.
procedure-check-after = { $step } va después de «{ $value }», que aquí no es un paso. Use la clave de uno.
procedure-check-after-any-time = { $step } va después de «{ $value }», un paso que se hace en cualquier momento y por el que ninguna plancha tiene que pasar. Haga de ello una regla del paso.
procedure-check-circle = { $step } se espera a sí mismo: { $value }. Quite uno de estos de aquello a lo que otro sigue.
procedure-check-out-of-reach = { $step } no puede empezar nunca: lo que necesita solo puede hacerse después. Afloje una de sus reglas.
procedure-check-then-only = A { $step } solo le sigue «{ $value }», que aquí no es un paso. Use claves de pasos.
procedure-check-rest-since = { $step } reposa desde «{ $value }», que ningún paso tiene como clave ni cuenta como tal. Use uno que sí.
procedure-check-need = { $step } tiene una regla sobre «{ $value }», que ningún paso tiene como clave ni cuenta como tal. Use uno que sí.
procedure-check-need-empty = { $step } tiene una regla que no nombra ningún paso. Nombre al menos uno, o quite la regla.
procedure-check-counts-as = { $step } cuenta como «{ $value }», por lo que ninguna regla pregunta. Mire cómo está escrito, o quítelo.
procedure-check-topic = { $step } requiere la habilitación «{ $value }», y no hay tal tema. Se conocen: { $known }.
procedure-check-topic-twice = { $step } nombra dos veces la habilitación «{ $value }». Deje el grado más alto.
procedure-check-etch-hazard = { $step } registra una acidulación pero no nombra ningún ácido entre sus peligros. Añada acid o nitric, para que se muestren las precauciones.
procedure-check-link = { $step }: «{ $value }» no es la dirección de una grabación. Escríbala con https:// delante y sin espacios.
procedure-check-rest-advised = { $step }: el reposo aconsejado de { $value } es más corto que el mínimo, { $other }. Póngalo al menos igual, o déjelo vacío.
procedure-check-rest-maximum = { $step }: el reposo máximo de { $value } es más corto que el que se pide, { $other }. Alárguelo.
procedure-check-rest-gum-limit = { $step }: el reposo de { $value } es más largo de lo que este procedimiento deja una plancha bajo goma seca, { $other }. Acorte el reposo o suba el límite.
procedure-check-rest-same-day = { $step } corresponde al mismo día pero va después de un reposo de { $value }. Quite una de las dos cosas.
procedure-check-rest-from-nothing = { $step } tiene un reposo pero no va después de nada desde lo que pueda contarse. Diga desde qué paso.
procedure-check-rest-no-gum = { $step } tiene un límite bajo goma, pero ningún otro paso acaba bajo goma. Diga cuál, o quite el límite.

## ---- people: accounts, invitations, sign-in ----
people-hall = Sus clases
people-hall-class = Clase
people-hall-term = Periodo
people-hall-role = Usted es
people-hall-waits = Pendiente
people-hall-waits-nothing = nada
people-hall-errands = Para usted, como responsable
people-hall-without-sheet =
    { $count ->
        [one] Una botella de ácido o de solución madre no tiene archivada la ficha de datos de seguridad.
       *[other] { $count } botellas de ácido o de solución madre no tienen archivada la ficha de datos de seguridad.
    }
people-hall-ending =
    { $count ->
        [one] Una habilitación vence en los próximos 14 días.
       *[other] { $count } habilitaciones vencen en los próximos 14 días.
    }
people-hall-grades-all =
    { $count ->
        [one] La única calificación está entregada.
       *[other] Las { $count } calificaciones están entregadas.
    }
people-hall-grades-missing =
    { $count ->
        [one] Falta entregar una calificación; el periodo terminó el { $day }.
       *[other] Faltan { $count } calificaciones por entregar; el periodo terminó el { $day }.
    }
people-hall-grades-later = Las calificaciones llegan después del final del periodo, el { $day }.
people-hall-unled = { $class } no tiene docente: añada uno.
people-hall-failed =
    { $count ->
        [one] No se pudo enviar una carta: vea por qué.
       *[other] No se pudieron enviar { $count } cartas: vea por qué.
    }
people-hall-empty = Todavía no está en ninguna clase. El docente le añade desde la lista de clase.
people-hall-empty-keeper = Usted no está en ninguna clase. Los periodos, las clases y las personas se llevan en
people-sign-in = Entrar
people-sign-in-email = Correo electrónico
people-sign-in-password = Contraseña
people-sign-in-button = Entrar
people-sign-in-wrong = Este correo y esta contraseña no van juntos. Compruebe los dos, o pida más abajo una contraseña nueva.
people-forgotten-link = Contraseña olvidada
done-signed-out = Ha cerrado la sesión.
done-account-open = Su cuenta está abierta. Aquí es donde empieza.
done-password-set = La contraseña nueva ya vale. Entre con ella.
done-password-changed = La contraseña nueva ya vale; sus demás sesiones han terminado.
done-session-ended = Esa sesión ha terminado.
done-preferences = Guardado.
done-school-founded = La escuela existe ya. Ahora: un periodo, un taller, una clase.
done-person-added = La persona está añadida e invitada.
done-invited = Se ha hecho una invitación nueva; la anterior ya no funciona.
done-right-set = El permiso está puesto.
people-link-dead-title = Este enlace ya no funciona
people-link-dead = Este enlace se usó, es demasiado viejo o fue sustituido por otro más reciente. Pida uno nuevo en la página de contraseña olvidada, o a quien le invitó.
people-new-password = Contraseña nueva
people-new-password-new = Contraseña nueva
people-new-password-new-hint = Una frase de varias palabras es buena y fácil de escribir.
people-new-password-again = La misma otra vez
people-new-password-button = Guardar esta contraseña
people-new-password-for = Para { $name }, { $email }.
people-new-password-for-nobody = Para { $name }.
people-new-password-first = Le damos la bienvenida. Elija una contraseña de al menos { $least } caracteres; con ella se abre su cuenta.
people-new-password-reset = Elija una contraseña nueva de al menos { $least } caracteres. Sus sesiones abiertas terminan.
people-password-short = La contraseña tiene { $length } caracteres; necesita al menos { $least }. Basta una frase de varias palabras.
people-password-long = La contraseña tiene { $length } caracteres; caben { $most } como máximo.
people-password-common = Esta contraseña está hecha de palabras o series que todo el mundo prueba, o de su propio nombre. Elija otras palabras.
people-password-differs = Las dos veces no coinciden. Escriba la misma contraseña dos veces.
people-password-wrong = Esta no es su contraseña actual.
people-set-up = Una escuela nueva
people-set-up-lead = Aquí se crea la escuela, con usted como primera persona responsable. Las responsables crean periodos, talleres y clases e invitan a docentes; no abren calificaciones ni fotos.
people-set-up-school = Nombre de la escuela o departamento
people-set-up-safety_office = Oficina de seguridad: nombre y teléfono
people-set-up-safety_office-hint = Se muestra dondequiera que se use ácido, disolvente o prensa.
people-set-up-given_name = Su nombre
people-set-up-family_name = Sus apellidos
people-set-up-email = Su correo electrónico
people-set-up-new = Contraseña
people-set-up-new-hint = Al menos 15 caracteres; una frase de varias palabras es buena.
people-set-up-again = La misma otra vez
people-set-up-button = Crear la escuela
people-school-there = Ya existe una escuela. Entre, o pregunte a su responsable.
people-no-email = «{ $value }» no es una dirección de correo, como name@college.example.
people-email-taken = Ya se conoce a alguien con este correo. Búsquelo en la lista.
people-act-nothing = No se eligió nada, así que nada cambió. Use uno de los botones junto al nombre.
people-account = Su cuenta
people-account-email = Cartas y entrada: { $email }
people-account-no-email = Aquí no tiene dirección de correo.
people-password = Cambiar la contraseña
people-password-current = Contraseña actual
people-password-new = Contraseña nueva
people-password-new-hint = Al menos 15 caracteres; una frase de varias palabras es buena.
people-password-again = La nueva otra vez
people-password-button = Cambiar la contraseña
people-email = Cambiar la dirección de correo
people-email-lead = Con esta dirección entra y a ella van las cartas. Ambas direcciones, la anterior y la nueva, reciben una carta sobre el cambio.
people-email-stands = Ahora es { $email }.
people-email-email = Nueva dirección de correo
people-email-again = La misma otra vez
people-email-differs = Las dos entradas difieren. Escriba dos veces la misma dirección.
people-email-same = Esta ya es su dirección. Escriba la nueva.
people-email-elsewhere = Alguien entra aquí ya con esta dirección. Use otra o pregunte a quien administra la escuela.
people-email-button = Cambiar la dirección
done-email-changed = La dirección nueva ya vale. Desde ahora entre con ella.
people-name = Cambiar un nombre
people-name-lead = El nombre nuevo figura en todas partes desde ahora: en listas, páginas y tablas. El diario guarda que se cambió.
people-name-given_name = Nombre
people-name-family_name = Apellido
people-name-link = Cambiar el nombre
done-name-changed = El nombre nuevo ya figura.
people-sessions = Dónde tiene sesión abierta
people-sessions-agent = Navegador
people-sessions-since = Desde
people-sessions-seen = Última vez
people-sessions-end = Terminarla
people-sessions-here = esta misma
people-preferences = Sus preferencias
people-preferences-language = Idioma
people-preferences-language-hint = De las páginas y de las cartas para usted. Lo que escribieron las personas se queda como lo escribieron.
people-language-browser = páginas según el navegador, cartas en inglés
language-en = English
language-es = Español
people-preferences-volume_unit = Volúmenes en
people-preferences-daily_letter = Una carta diaria los días en que algo está listo o hay una entrega
people-preferences-urgent_letter = Un aviso cuando un límite vence antes de la siguiente carta diaria
people-preferences-due_moved_letter = Una carta cuando se mueve una fecha de entrega suya
people-preferences-handed_back_letter = Una carta cuando se devuelven calificaciones
people-preferences-second_look_asked_letter = Una carta cuando alguien pide una segunda mirada, para docentes
people-preferences-second_look_answered_letter = Una carta cuando se responde a una segunda mirada suya
people-preferences-grade_submitted_letter = Una carta cuando se entrega o cambia una nota suya
people-preferences-urgent_letter-hint = Nunca entre las 21:00 y las 7:00, ni un día en que el taller está cerrado: la página de la plancha lo dice antes de que usted se vaya.
people-preferences-week_letter = La clase en una página cada semana, para docentes
people-preferences-letter_hour = Las cartas del día llegan a partir de las
people-preferences-letter_hour-hint = En la hora de cada clase. Los días en que su taller está cerrado no llega ninguna.
people-preferences-button = Guardar
people-calendar = Calendario
people-calendar-about = Una dirección privada a la que puede suscribirse un programa de calendario: cuándo se reúnen sus clases, cuándo abre el taller y a más tardar cuándo hay que empezar con sus planchas. Quien tenga la dirección puede leerlo; retírela si ha llegado a otras manos.
people-calendar-address = Su dirección
people-calendar-make = Crear una dirección
people-calendar-again = Crear otra; esta se acaba
people-calendar-withdraw = Retirarla
done-calendar-made = La dirección está creada.
done-calendar-withdrawn = La dirección ya no abre nada.
people-unit-us-fl-oz = onzas líquidas estadounidenses
people-unit-ml = mililitros
people-confirm = Su contraseña, por favor
people-confirm-lead = Lo que viene tiene peso, así que se pide otra vez la contraseña. Después vale diez minutos.
people-confirm-current = Contraseña
people-confirm-button = Seguir
people-forgotten = Contraseña olvidada
people-forgotten-lead = Escriba su correo. Si hay una cuenta, llega una carta con un enlace; funciona una sola vez, durante 30 minutos.
people-forgotten-email = Correo electrónico
people-forgotten-button = Enviar el enlace
people-forgotten-sent = Si esta dirección tiene aquí una cuenta, una carta con un enlace va de camino. Mire también en la carpeta de correo no deseado.
people-people = Personas de la escuela
people-people-name = Nombre
people-people-email = Correo electrónico
people-people-account = Cuenta
people-people-open = abierta
people-people-invited = aún sin abrir
people-people-lapsed = invitación vencida
people-people-rights = Permisos en la escuela
people-people-again = Invitar otra vez
people-people-slip = Hoja para imprimir
people-right-keeper = responsable de la escuela
people-right-records = personal de registro académico
people-right-safety-officer = responsable de seguridad
people-right-give = Dar el permiso: { $right }
people-right-take = Retirar: { $right }
people-add = Añadir una persona
people-add-given_name = Nombre
people-add-family_name = Apellidos
people-add-email = Correo electrónico
people-add-right = Permiso en la escuela
people-add-right-hint = Docentes y ayudantes no necesitan ninguno: reciben su lugar en una clase.
people-add-button = Añadir e invitar
people-slip = Invitación
people-slip-for = Para { $name }
people-slip-how = Abra esta dirección en un navegador y elija una contraseña. Funciona una sola vez, hasta { $until }.
people-slip-private = Entréguela en mano: quien tenga la hoja puede abrir la cuenta.
people-slip-none = No hay ninguna invitación abierta. Invite otra vez a la persona y luego imprima la hoja.
people-last-keeper = Esta es la última persona responsable de la escuela. Dé antes ese permiso a otra.

## ---- classes: terms, listings, projects, roster ----
roster-field-given-name = nombre
roster-field-family-name = apellidos
roster-field-name = nombre completo
roster-field-email = correo electrónico
roster-field-student-number = número de estudiante
roster-field-external-id = identificador externo
roster-field-listing = asignatura
roster-field-course = materia
roster-field-role = función
roster-file-too-large = El archivo tiene { $bytes } bytes y una lista de clase como máximo { $most }: compruebe que es el archivo correcto, o divídalo por asignaturas.
roster-file-empty = El archivo está vacío: guarde la lista de clase como CSV UTF-8 y elija ese archivo.
roster-file-spreadsheet = El archivo es una hoja de cálculo, no un CSV: ábralo, guarde la hoja con la lista de clase como «CSV UTF-8» (texto, juego de caracteres UTF-8) y elija el archivo guardado.
roster-file-pdf = El archivo es un PDF, que contiene páginas y no columnas: pida la lista de clase como hoja de cálculo o CSV, guárdela como «CSV UTF-8» y elija ese archivo.
roster-file-document = El archivo es un documento de texto, no un CSV: ponga la lista de clase en una hoja de cálculo, guárdela como «CSV UTF-8» y elija ese archivo.
roster-file-page = El archivo es una página web o XML, no un CSV, diga lo que diga su nombre: ábralo en un programa de hojas de cálculo, guárdelo como «CSV UTF-8» y elija el archivo guardado.
roster-file-packed = El archivo está comprimido: descomprímalo y elija el CSV que contiene.
roster-file-encoding = Las letras del archivo no se pueden leer con certeza (línea { $line }): ábralo en un programa de hojas de cálculo, guárdelo como «CSV UTF-8» (texto, juego de caracteres UTF-8) y elija el archivo guardado.
roster-no-header = La primera línea, «{ $value }» (línea { $line }), no nombra ninguna columna que aquí se conozca: haga que la primera línea nombre las columnas, como nombre, apellidos, correo electrónico, número de estudiante, asignatura, y borre lo que haya encima.
roster-no-name-column = Las columnas «{ $value }» no indican nombres: llame a dos columnas nombre y apellidos, o a una sola nombre completo, con «Apellidos, Nombre».
roster-column-twice = Las columnas «{ $first }» y «{ $second }» se leen como lo mismo: borre o cambie de nombre la que sobre.
roster-too-many-columns = La primera línea tiene más de { $most } columnas: borre las que no hacen falta.
roster-no-rows = El archivo tiene una línea con los nombres de las columnas, pero nadie debajo: añada una línea por persona.
roster-too-many-rows = La lista tiene más de { $most } filas: divídala por asignaturas.
roster-quote-open = Línea { $line }: unas comillas abren una celda y ningunas la cierran, así que lo que sigue no se puede leer. Ciérrelas o bórrelas.
roster-quote-stray = Línea { $line }: hay texto después de unas comillas de cierre en «{ $value }». Dentro de una celda entre comillas, escriba las comillas dos veces.
roster-cells-beyond = Línea { $line }: hay { $cells } celdas para { $columns } columnas en «{ $value }». Ponga entre comillas la celda que contiene el separador, o vacíe las celdas del final.
roster-control-characters = Línea { $line }, «{ $column }»: «{ $value }» contiene un salto de línea o caracteres invisibles. Escríbalo de nuevo.
roster-letter-lost = Línea { $line }, «{ $column }»: «{ $value }» perdió una letra al guardarse el archivo. Escríbalo de nuevo y guarde el archivo como «CSV UTF-8».
roster-formula = Línea { $line }, «{ $column }»: «{ $value }» empieza por un signo que hace que un programa de hojas de cálculo lo tome por una fórmula. Borre el signo.
roster-too-long = Línea { $line }, «{ $column }»: «{ $value }» tiene { $length } caracteres; caben { $most } como máximo. Acórtelo.
roster-name-empty = Línea { $line }, «{ $column }»: no hay nombre. Escríbalo, o borre la línea.
roster-name-undivided = Línea { $line }, «{ $column }»: en «{ $value }» no se distingue cuáles son los apellidos. Escriba «Apellidos, Nombre».
roster-one-name = Línea { $line }: «{ $value }» es el único nombre indicado. Si la persona tiene otro, escríbalo en su columna.
roster-email-malformed = Línea { $line }, «{ $column }»: «{ $value }» no es una dirección de correo. Escríbala como name@school.example, o déjela vacía.
roster-email-twice = Línea { $line }, «{ $column }»: «{ $value }» está también en la línea { $other }. Una dirección de correo es de una sola persona: corrija una línea, o bórrela.
roster-number-twice = Línea { $line }, «{ $column }»: «{ $value }» está también en la línea { $other }. Un número de estudiante es de una sola persona: corrija una línea, o bórrela.
roster-number-rounded = Línea { $line }, «{ $column }»: un programa de hojas de cálculo acortó «{ $value }» y sus cifras se perdieron. Dé a la columna formato de texto y escriba el número de nuevo.
roster-external-id-twice = Línea { $line }, «{ $column }»: «{ $value }» está también en la línea { $other }. Un identificador externo es de una sola persona: corrija una línea, o bórrela.
roster-name-twice = Línea { $line }, «{ $column }»: «{ $value }» está también en la línea { $other }, y nada más dice aquí de quién se trata. Añada un número de estudiante o una dirección de correo.
roster-listing-unknown = Línea { $line }, «{ $column }»: «{ $value }» no es una asignatura de esta clase. { $known ->
    [none] La clase no tiene aún asignaturas: añada antes una, o deje vacía la celda.
   *[other] Escriba una de estas: { $known }.
}
roster-listing-unclear = Línea { $line }, «{ $column }»: «{ $value }» puede ser varias asignaturas. Escriba entera una de estas: { $known }.
roster-listing-untold = Línea { $line }: no se indica la asignatura de «{ $value }», y la clase tiene varias. Escriba una de estas: { $known }.
roster-role-unknown = Línea { $line }, «{ $column }»: «{ $value }» no es una función. Escriba estudiante o ayudante, o déjela vacía para un estudiante.
roster-role-too-high = Línea { $line }, «{ $column }»: una lista no puede dar la función «{ $value }». Escriba estudiante o ayudante, o borre la línea; las demás funciones las da una persona responsable de la escuela.
roster-row-of-instructor = Línea { $line }: «{ $value }» es docente de esta clase, y una lista no puede cambiarlo. Borre la línea o vacíe su función.
roster-keys-disagree = Línea { $line }: «{ $first }» y «{ $second }» son de dos personas distintas. Corrija lo que esté mal, o vacíelo.
roster-person-twice = Línea { $line }: «{ $value }» es una persona a la que se refiere también la línea { $other }. Deje una de las dos líneas.
roster-name-unclear = Línea { $line }: varias personas de la clase se llaman «{ $value }». Añada un número de estudiante o una dirección de correo.
roster-withdrawals-held = No se propone retirar a nadie, porque la línea { $line } no se puede leer y puede ocultar a personas. Corríjala y elija otra vez el archivo.
classes-school = La escuela
classes-school-people = Personas de la escuela
school-about = Nombre y oficina de seguridad
school-about-school = Nombre de la escuela
school-about-safety_office = Oficina de seguridad y cómo localizarla
school-about-safety_office-hint = Figura donde alguien la necesita: en páginas sobre ácido, disolventes y lo que salió mal.
done-school-kept = Guardado.
classes-first-label = Lo primero
classes-first-studio = Una clase trabaja en un taller. Diga dónde está, dónde está su lavaojos y a quién llamar.
classes-first-term = Una clase pertenece a un periodo. Sus días primero y último y su zona horaria deciden qué significa una fecha de entrega.
classes-first-class = Ahora cree una clase y diga quién la imparte; esa persona recibe una invitación.
classes-terms = Periodos y clases
classes-terms-none = Todavía no hay ningún periodo.
classes-term = Periodo
classes-term-add = Crear un periodo
classes-term-change = Cambiar un periodo
classes-term-span = de { $starts } a { $ends }, horas de { $zone }
classes-term-empty = Todavía no hay clases en este periodo.
classes-term-name = Nombre
classes-term-name-hint = Por ejemplo, Otoño 2026.
classes-term-name-taken = Ya hay un periodo con este nombre. Dele otro.
classes-term-starts = Primer día
classes-term-ends = Último día
classes-term-ends-before = El último día no es posterior al primero. Cambie uno de los dos.
classes-term-too-long = Son { $days } días; un periodo tiene { $most } como máximo. Mire los años.
classes-term-zone = Zona horaria
classes-term-zone-hint = Donde está la escuela, por su nombre en la lista de la IANA, como America/New_York. Empiece a escribir y elija.
classes-zone-unknown = «{ $value }» no es una zona horaria. Escriba un nombre de la lista de la IANA, como America/New_York.
classes-zone-note = Las horas son las de { $zone }.
classes-class = Clase
classes-class-add = Crear una clase
classes-class-change = Lo que la escuela dice de ella
classes-class-not-yet = Una clase necesita un periodo y un taller. Créelos antes, en la página de la escuela.
classes-code = Código
classes-studio = Taller
classes-studios = Talleres
classes-studios-none = Todavía no hay ningún taller.
classes-studio-add = Montar un taller
classes-studio-where = Dónde
classes-studio-eyewash = Lavaojos
classes-instructors = Docentes
classes-nobody = nadie todavía
classes-keep = Guardar los cambios
classes-remove = Quitar
classes-back-school = A la escuela
classes-back-class = A la clase
classes-back-settings = A los ajustes de la clase
classes-choice-gone = Esta opción ya no existe. Elija de la lista.
classes-new-term = Periodo
classes-new-studio = Taller
classes-new-code = Código
classes-new-code-hint = Corto, como LIT-A; una sola vez en cada periodo.
classes-new-title = Título
classes-kept-code = Código
classes-kept-title = Título
classes-kept-studio = Taller
classes-code-taken = Otra clase de este periodo tiene este código. Dele otro.
classes-teacher = Quién la imparte
classes-teacher-instructor = Alguien que ya está aquí
classes-teacher-or = O alguien nuevo, que recibe entonces una invitación:
classes-teacher-given_name = Nombre
classes-teacher-family_name = Apellidos
classes-teacher-email = Correo electrónico
classes-teacher-missing = No se nombra a nadie. Elija a alguien, o rellene los tres campos de alguien nuevo.
classes-teacher-twice = Se ha elegido a alguien y además se ha escrito a alguien nuevo. Deje vacía una de las dos cosas.
classes-email-known = Alguien con este correo ya está aquí y figura ahora en la lista de arriba. Elíjalo allí y deje vacíos los campos de alguien nuevo.
classes-student-here = Esta persona es estudiante de la clase, y nadie imparte una clase que cursa.
classes-instructor-already = Esta persona ya imparte la clase.
classes-instructor-add = Añadir un docente
classes-instructor-lead = Un docente de la clase la ve entera: planchas, pruebas y calificaciones.
classes-new-instructor = Quién la imparte
classes-new-given_name = Nombre
classes-new-family_name = Apellidos
classes-new-email = Correo electrónico
classes-instructor-instructor = Quién la imparte
classes-instructor-given_name = Nombre
classes-instructor-family_name = Apellidos
classes-instructor-email = Correo electrónico
classes-again = Empezar una clase a partir de otra anterior
classes-again-link = Empezar otra vez a partir de esta
classes-again-hint = Una clase nueva puede partir de otra anterior: sus proyectos, procedimientos, temas y evaluaciones vienen con ella y sus fechas se mueven por semana del periodo.
classes-again-from = A partir de: { $class }
classes-again-lead = Diga a qué periodo y a qué taller. Lo que sigue es una vista previa; no se crea nada hasta que usted lo confirme.
classes-again-term = Periodo
classes-again-studio = Taller
classes-again-code = Código
classes-again-title = Título
classes-again-instructor = Quién la imparte
classes-again-given_name = Nombre
classes-again-family_name = Apellidos
classes-again-email = Correo electrónico
classes-again-look = Ver la vista previa
classes-again-other-term = Otro periodo o taller
classes-again-dates = Fechas de entrega
classes-again-dates-lead = Cada fecha conserva su día de la semana, su hora y su semana del periodo, de { $source } a { $term }. Cambie lo que deba ser de otro modo.
classes-again-closures = { $count ->
    [one] Una fecha cae en un día en que el taller está cerrado. Se queda ahí si usted no la cambia o marca su casilla.
   *[other] { $count } fechas caen en días en que el taller está cerrado. Se quedan ahí si usted no las cambia o marca sus casillas.
}
classes-again-was = La entrega era
classes-again-becomes = La entrega será
classes-again-due = Entrega
classes-again-week = semana { $week }
classes-again-outside = fuera del periodo
classes-again-shift = Pasarla al siguiente día en que abre el taller
classes-again-next-open = Es decir, { $day }.
classes-again-never-open = El taller no abre en ninguna de las cuatro semanas que siguen a este día. Escriba otra fecha.
classes-again-luggage = Lo demás que viene con ella
classes-again-stays = Las personas, las planchas, los registros y las puntuaciones se quedan donde están. Las horas de presencia vienen para quienes imparten la clase nueva.
classes-again-make = Crear esta clase
classes-not-empty = Esta clase ya tiene proyectos, categorías o procedimientos propios, así que no se le puede traer nada.
classes-fill = Traer una clase anterior
classes-fill-lead = De una clase que usted imparte o impartió vienen a esta los proyectos, procedimientos, temas y evaluaciones; sus fechas se mueven por semana del periodo. Elija una; lo que sigue es una vista previa.
classes-fill-none = No imparte ni ha impartido ninguna otra clase con proyectos.
classes-fill-other = Otra clase
classes-fill-make = Traer todo esto
classes-procedures = Procedimientos propios
classes-topics = Temas de habilitación
classes-categories = Categorías
classes-assessments = Evaluaciones
classes-settings = Ajustes de la clase
classes-rules = Reglas de la clase
classes-rules-change = Cambiar las reglas
classes-rules-title = Título
classes-rules-go_ahead = La tirada espera el visto bueno del docente
classes-rules-shares_logs = Los estudiantes ven los registros de acidulación de los demás, sin nombres
classes-rules-gum_limit_days = Tiempo máximo bajo goma seca, en días
classes-rules-gum_limit_days-hint = Se señala la plancha que pase más tiempo. Vacío: vale el límite del propio procedimiento, si lo tiene.
classes-gum-limit-short = { $value ->
    [one] { $value } día es
   *[other] { $value } días son
} menos que el reposo bajo goma que pide el paso «{ $step }» de «{ $procedure }», { $rest }: no podría hacerse un plan de una plancha así. Ponga { $least } días o más, deje el campo vacío o acorte antes ese reposo.
classes-gum-limit-short-plate = { $value ->
    [one] { $value } día es
   *[other] { $value } días son
} menos que el reposo bajo goma que pide el paso «{ $step }» de «{ $procedure }», { $rest }, y una plancha empezada con él conserva ese reposo: no podría hacerse su plan. Ponga { $least } días o más, o deje el campo vacío.
classes-gum-limit-procedure = { $step }: el reposo mínimo de { $value } es más largo de lo que esta clase deja una plancha bajo goma seca, { $limit ->
    [one] { $limit } día
   *[other] { $limit } días
}: sus planchas nunca podrían planificarse. Acorte el reposo o ponga antes el límite de la clase en { $least } días o más.
classes-rules-ph_low = pH más bajo de una acidulación medida
classes-rules-ph_high = pH más alto de una acidulación medida
classes-go-ahead-yes = sí
classes-go-ahead-no = no, las tiradas empiezan sin él
classes-shares-yes = sí
classes-shares-no = no
classes-days = { $days ->
    [one] 1 día
   *[other] { $days } días
}
classes-no-limit = sin límite
classes-ph-window = pH de una acidulación medida
classes-ph-between = de { FIGURE($low) } a { FIGURE($high) }
classes-ph-order = El pH más alto no es mayor que el más bajo. Cambie uno de los dos.
classes-ph-one-end = El intervalo de pH tiene un solo extremo. Dé los dos, o deje los dos vacíos.
classes-listings = Asignaturas
classes-listings-none = Todavía no hay ninguna asignatura. Los estudiantes se matriculan en una asignatura.
classes-listing-add = Añadir una asignatura
classes-listing-change = Cambiar una asignatura
classes-listing-code = Código
classes-listing-code-hint = Como figura en el catálogo, por ejemplo LIT 220.
classes-listing-section = Sección
classes-listing-level = Nivel
classes-listing-credits = Créditos
classes-listing-basis = Se cursa para
classes-listing-taken = La clase ya tiene este código con esta sección. Cambie la sección.
classes-listing-remove = Quitar la asignatura
classes-listing-remove-lead = Solo puede quitarse una asignatura en la que nunca se matriculó nadie.
classes-listing-in-use = Alguien está o estuvo matriculado en esta asignatura, así que se queda. Cámbiela en su lugar.
classes-basis-letter = una letra
classes-basis-pass = aprobado o no
classes-basis-audit = oyente
classes-meetings = Reuniones y presencia
classes-meetings-change = Cambiar las horas
classes-meetings-none = Todavía no hay horas puestas. Diga cuándo se reúne la clase; de ahí salen los calendarios y la lista de asistencia.
classes-meetings-full = La clase ya tiene { $most } entradas. Quite antes una.
classes-meeting-add = Añadir estas horas
classes-meeting-kind = Qué
classes-meeting-person = Quién está
classes-meeting-person-hint = Solo para la presencia: un docente o ayudante de la clase.
classes-meeting-weekday = Día de la semana
classes-meeting-time = Hora
classes-meeting-from = De
classes-meeting-to = A
classes-kind-meeting = se reúne la clase
classes-kind-presence = en el taller
classes-presence-of-whom = La presencia es de alguien. Elija quién está.
classes-not-staff = Esta persona no imparte la clase ni ayuda en ella. Elija de la lista.
classes-projects = Proyectos
classes-projects-none = Todavía no hay ningún proyecto. Añada el primero, o traiga una clase anterior.
classes-projects-full = La clase ya tiene { $most } proyectos, todos los que caben.
classes-project = Proyecto
classes-project-add = Añadir un proyecto
classes-project-change = Cambiar un proyecto
classes-project-title = Título
classes-project-brief = Enunciado
classes-project-brief-hint = Lo que se pide, tal como lo leen los estudiantes.
classes-project-due = Entrega
classes-project-edition_asked = Ejemplares que se piden para la tirada
classes-project-edition_asked-hint = 0 donde no se pide tirada.
classes-project-procedure = Procedimiento
classes-procedure = Procedimiento
classes-procedure-note = Las planchas ya empezadas conservan el procedimiento con el que empezaron.
classes-procedure-of-school = de la escuela
classes-procedure-of-class = de esta clase
classes-procedures-none = Todavía no hay ningún procedimiento que elegir, así que no se puede crear un proyecto. Los procedimientos propios de la escuela se preparan con el programa; pregunte a la persona responsable.
classes-surface-plate = plancha
classes-surface-stone = piedra
classes-edition = Tirada
classes-edition-none = ninguna
classes-brief-edition = Tirada que se pide
classes-brief-impressions = { $count ->
    [one] un ejemplar numerado
   *[other] { $count } ejemplares numerados
}
classes-brief-no-edition = No se pide tirada.
classes-brief-none = El docente aún no ha escrito el enunciado.
classes-brief-own = su fecha propia
classes-brief-own-due = Usted tiene una fecha de entrega propia: { $due }. Para la clase es { $class_due }.
classes-brief-own-reason = El motivo, que solo leen usted y el docente: { $reason }
classes-briefs-none = Todavía no hay ningún proyecto. El docente escribe el primero, en los ajustes de la clase.
classes-due = Entrega
classes-due-move = Mover la fecha de entrega
classes-due-lead = Entrega { $due } para quienes no tienen una fecha propia.
classes-due-due = Nueva fecha de entrega
classes-due-span = El periodo va de { $starts } a { $ends }.
classes-due-why = Motivo
classes-due-why-hint = Los estudiantes lo leen junto a la fecha nueva.
classes-due-why-closed = El taller estuvo cerrado
classes-due-why-down = Algo no funcionaba
classes-due-why-agreed = Acordado con la clase
classes-due-moves = Cambios anteriores
classes-due-from = De
classes-due-to = A
classes-due-who = Por
classes-due-outside-term = { $day } queda fuera del periodo, que va de { $starts } a { $ends }. Elija un día del periodo.
classes-due-as-before = Esta es la fecha que ya tiene. Elija otra.
classes-due-over = { $day } ya ha pasado, y es anterior a la fecha que había: todas las estampas quedarían con retraso de golpe. Dé una fecha futura.
classes-moved = movida desde { $from } por { $who }: { $reason }
classes-closed-that-day = taller cerrado
classes-own-due = Fechas de entrega propias
classes-own-due-link = Poner o retirar
classes-own-due-set = Poner una fecha a una persona
classes-own-due-lead = Sustituye la fecha de la clase ({ $due }) para esta persona. El motivo lo leen solo ella y usted; los ayudantes ven la fecha.
classes-own-due-person = Estudiante
classes-own-due-due = Entrega
classes-own-due-why-away = Ausencia justificada
classes-own-due-why-closed = El taller estuvo cerrado
classes-own-due-why-agreed = Acordado de antemano
classes-own-due-none = Nadie tiene una fecha propia para este proyecto.
classes-own-due-take-back = Retirarla
classes-own-due-before-term = Este día es anterior al comienzo del periodo, { $starts }. Elija un día posterior.
classes-no-student = Esta persona no es ahora estudiante de la clase. Elija de la lista.
classes-students-none = Todavía no hay estudiantes en la clase.
done-term-added = El periodo está creado.
done-term-changed = El periodo está cambiado.
done-studio-added = El taller está montado.
done-class-added = La clase está creada. Quien es nuevo recibe una invitación.
done-class-changed = La clase está cambiada.
done-class-started = La clase está creada, con todo lo de la anterior.
done-class-filled = Todo lo de la clase anterior está ya aquí. Repáselo.
done-instructor-added = El docente está añadido.
done-rules-set = Las reglas están cambiadas.
done-listing-added = La asignatura está añadida.
done-listing-changed = La asignatura está cambiada.
done-listing-removed = La asignatura ya no está.
done-meeting-added = Las horas están añadidas.
done-meeting-removed = Las horas ya no están.
done-project-added = El proyecto está añadido.
done-project-changed = El proyecto está cambiado.
done-due-moved = La fecha de entrega está movida.
done-own-due-set = La fecha está puesta.
done-own-due-taken-back = La fecha está retirada; vuelve a valer la de la clase.
roster-people = Personas de la clase
roster-nobody = Todavía no hay estudiantes en la clase. Traiga la lista de clase, o añada abajo a las personas una por una.
roster-nobody-read = Todavía no hay estudiantes en la clase. El docente trae la lista de clase.
roster-gone = Ya no están en la clase
roster-role-student = estudiante
roster-role-assistant = ayudante
roster-role-instructor = docente
roster-state-enrolled = matrícula vigente
roster-state-dropped = baja
roster-state-withdrawn = retirada
roster-state-incomplete = incompleto
roster-since = desde { $day }
roster-no-email = No se conoce su dirección de correo.
roster-number = Número de estudiante { $number }
roster-column-name = Nombre
roster-column-role = Función
roster-column-listing = Asignatura
roster-column-state = Estado
roster-column-account = Cuenta
roster-column-email = Correo electrónico
roster-column-number = Número de estudiante
roster-column-line = Línea
roster-column-wrong = Qué está mal, y qué hacer
roster-column-left = Se deja como está
roster-column-change = Cambio
roster-column-at = Cuándo
roster-column-reason = Motivo
roster-column-by = Por
roster-add = Añadir una persona
roster-add-given_name = Nombre
roster-add-family_name = Apellidos
roster-add-email = Correo electrónico
roster-add-email-hint = Si no lo hay, imprima una hoja con la invitación.
roster-add-student_number = Número de estudiante
roster-add-listing = Asignatura
roster-add-role = Función
roster-add-invite = Invitar ahora
roster-add-button = Añadir
roster-add-there = Esta persona está o estuvo ya en la clase. Abra su página para cambiar lo que es en ella.
roster-add-namesake = Ya hay alguien con este nombre en la clase. Si es otra persona, añada un número de estudiante o una dirección de correo.
roster-add-keys-disagree = Esta dirección de correo y este número de estudiante son de dos personas distintas. Corrija lo que esté mal, o déjelo vacío.
roster-reason-list = lista de clase
roster-reason-console = lista de clase, desde la línea de órdenes
roster-reason-hand = a mano
roster-reason-withdrawn = no está en la lista de clase
roster-list-link = Traer una lista de clase
roster-list = Lista de clase
roster-list-lead = Elija la lista de clase como archivo CSV, o péguela. La primera línea nombra las columnas: nombre, apellidos, correo electrónico, número de estudiante, asignatura. Primero se muestra lo que haría la lista; no se cambia nada hasta que usted lo confirme.
roster-list-file = Archivo
roster-list-file-hint = CSV, como máximo 5 MB.
roster-list-text = O péguela aquí
roster-list-button = Repasarla
roster-list-none = No hay lista. Elija un archivo, o pegue la lista.
roster-list-both = Hay un archivo y una lista pegada. Envíe solo una de las dos cosas.
roster-preview = Lo que haría la lista
roster-preview-other = Otra lista
roster-preview-lead = Todavía no se ha cambiado nada. Repáselo y confirme abajo.
roster-preview-nothing = Nada que hacer: la lista no pide ningún cambio.
roster-preview-ignored = Columnas que no se leen: { $columns }.
roster-preview-bad = { $count ->
    [one] Una fila que no se puede usar
   *[other] { $count } filas que no se pueden usar
}
roster-preview-added = { $count ->
    [one] Una persona nueva
   *[other] { $count } personas nuevas
}
roster-preview-namesake = Hay alguien con este nombre en la clase: quizá la misma persona con otro número.
roster-preview-joining = { $count ->
    [one] Una persona conocida, añadida a la clase
   *[other] { $count } personas conocidas, añadidas a la clase
}
roster-preview-joining-about = La escuela las conoce. Quien tiene una cuenta, está en otra clase o tiene un permiso de la escuela conserva sus datos como están.
roster-preview-changed = { $count ->
    [one] Una persona cambiada
   *[other] { $count } personas cambiadas
}
roster-preview-moved = { $count ->
    [one] Una persona pasada a otra asignatura
   *[other] { $count } personas pasadas a otra asignatura
}
roster-preview-back = { $count ->
    [one] Una persona que vuelve
   *[other] { $count } personas que vuelven
}
roster-preview-alone = { $count ->
    [one] Una persona cuyos datos se dejan como están
   *[other] { $count } personas cuyos datos se dejan como están
}
roster-preview-alone-about = La lista dice otra cosa, pero estas personas tienen una cuenta, están en otra clase o tienen un permiso de la escuela. Sus datos los cambian ellas mismas.
roster-left = { $what } «{ $told }» en la lista
roster-preview-withdrawals = { $count ->
    [one] Una persona no está en la lista
   *[other] { $count } personas no están en la lista
}
roster-preview-withdrawals-about = Marque a quién quiere retirar. No se borra a nadie; lo que hicieron se queda.
roster-preview-withdraw = Retirar a { $name }
roster-preview-apart = una asignatura de la que la lista no nombra a nadie
roster-preview-same = { $count ->
    [one] Nada que hacer para una persona
   *[other] Nada que hacer para { $count } personas
}
roster-line = Línea { $line }
roster-confirm-invite = Invitar ahora a todas las personas nuevas
roster-confirm-button = Hacer esto
roster-ids-kept = Se conservan los identificadores con los que el otro sistema conoce esta clase, y los paquetes hechos aquí los usarán: { $what }.
roster-ids-taken = El identificador «{ $id }» ({ $what }) ya es de otra cosa aquí, así que no se conserva.
roster-ids-shared = El identificador «{ $id }» ({ $what }) no se conserva: lo que nombra puede ser común a otras clases y tiene el identificador «{ $before }». Si ese está mal, la persona responsable de la escuela lo suelta en Identificadores en otros sistemas.
roster-ids-replaced = El identificador «{ $id }» ({ $what }) sustituye a «{ $before }».
roster-ids-other-term = En el paquete, el { $what } empieza el { $starts } y termina antes del { $ends }, sin ningún día en el de esta clase, así que no se conservan los identificadores de clase y periodo.
roster-ids-other-year = En el paquete, el { $what } termina en { $theirs } y el de esta clase en { $ours }, así que su identificador no se conserva.
roster-ids-class = clase
roster-ids-term = periodo
roster-ids-year = año escolar
roster-ids-course = curso
roster-ids-school = escuela
roster-ids-department = departamento
roster-ids-category = categoría
roster-ids-assessment = evaluación
roster-ids-person = persona
outside-ids-title = Identificadores en otros sistemas
outside-ids-about = Lo que comparten las clases conserva el primer identificador que trajo un paquete, y los paquetes hechos aquí lo usan. Suelte el que esté mal: hasta que se traiga el próximo paquete, los paquetes usan el nuestro.
outside-ids-what = Qué
outside-ids-name = Nombre
outside-ids-theirs = Identificador en el otro sistema
outside-ids-ours = Nuestro identificador
outside-ids-let-go = Soltarlo
outside-ids-none = Ningún paquete ha traído un identificador para la escuela, un año escolar, un periodo o un curso.
outside-ids-stale = El identificador «{ $id }» ya no es el vigente. Vuelva a mirar la lista.
done-outside-id = El identificador está suelto. El próximo paquete puede traer otro.
roster-ids-categories = { $count ->
    [one] una categoría
   *[other] { $count } categorías
}
roster-ids-assessments = { $count ->
    [one] una evaluación
   *[other] { $count } evaluaciones
}
roster-stale = Alguien cambió la clase mientras tanto, así que no se hizo nada. Esto es lo que haría ahora la lista; repáselo otra vez.
roster-seat = Función y asignatura
roster-seat-role = Función
roster-seat-listing = Asignatura
roster-seat-reason = Motivo
roster-seat-button = Guardar función y asignatura
roster-seat-stale = Alguien cambió mientras tanto el lugar de esta persona en la clase. Lo que vale ahora está arriba; envíelo otra vez si todavía lo quiere.
roster-seat-of-instructor = El lugar de un docente en la clase lo cambia una persona responsable de la escuela.
roster-state = Estado
roster-state-state = Estado
roster-state-since = Desde
roster-state-why-asked = Lo pidió la persona
roster-state-why-registrar = Según el registro de la escuela
roster-state-why-absent = Ya no viene
roster-state-button = Guardar el estado
roster-since-ahead = { $day } no ha llegado todavía. Escriba el día en que ocurrió.
roster-since-before = { $day } es anterior a { $before }, cuando empezó el último estado. Escriba ese día u otro posterior.
roster-changes = Lo que se cambió
roster-changes-none = Nada todavía.
roster-invite = Invitar, o invitar otra vez
roster-slip-open = La cuenta ya está abierta. Para una contraseña nueva está la página de contraseña olvidada.
roster-slip-keeper = Esta cuenta abre más que esta clase, así que solo una persona responsable de la escuela imprime su hoja.
done-roster-brought = La lista está incorporada.
done-roster-added = La persona está en la clase.
done-roster-invited = Invitación enviada; una anterior ya no funciona.
done-roster-kept = Guardado.
roster-import-told = { $added } personas añadidas, { $joined } conocidas y añadidas a la clase, { $changed } cambiadas, { $moved } pasadas a otra asignatura, { $back } que vuelven, { $same } sin nada que hacer, { $bad } erróneas.
roster-import-left = Línea { $line }: { $what } «{ $told }» se deja como está.
roster-import-missing = No está en la lista: { $name }. Retire a las personas en la página de la clase.
roster-import-new = Línea { $line }: { $name } es nuevo en la clase.
roster-import-row = Línea { $line }: { $name }: { $what }.
roster-import-joins = persona conocida, añadida a la clase
roster-import-back = vuelve a la clase
roster-import-moved = pasa a { $listing }
roster-import-change = { $what } «{ $old }» pasa a ser «{ $new }»

## ---- studio: hours, stations, containers ----
studio-studio = Taller
studio-back = Al taller
studio-back-containers = A los recipientes
studio-keep = Guardar los cambios
studio-remove = Quitar
studio-full = Ya hay { $most } entradas, todas las que caben. Quite antes una.
studio-room-add = Montar un taller
studio-room-change = Cambiar lo que se dice de la sala
studio-room-name = Nombre
studio-room-name-hint = Por ejemplo, Taller de grabado de abajo.
studio-room-room_address = Edificio y sala
studio-room-room_address-hint = Como se le diría a una ambulancia.
studio-room-eyewash = Lavaojos
studio-room-eyewash-hint = Dónde está, visto desde la mesa de acidular.
studio-room-emergency_numbers = Números de emergencia
studio-room-waste_words = Palabras para una etiqueta de residuos
studio-room-waste_words-hint = Las propias del campus, como las quiere su oficina de seguridad en un recipiente de residuos, una por línea.
studio-open-until = Abierto ahora, hasta { $until }.
studio-shut-now = No abre a esta hora.
studio-closed-today = hoy cerrado
studio-week = Cada semana
studio-hours = Horario del taller
studio-hours-change = Cambiar el horario
studio-hours-none = Todavía no se ha indicado el horario. Pregunte a quien lleva el taller.
studio-hours-none-staff = Todavía no se ha indicado el horario. Indíquelo primero, para que los planes sepan cuándo abre el taller.
studio-there-none = Todavía nadie ha dicho cuándo hay alguien. El docente lo pone en los ajustes de la clase.
studio-shut = no abre
studio-today = (hoy)
studio-days = Días cerrados y días extra
studio-closures = Cerrado
studio-closures-none = Ningún día está marcado como cerrado.
studio-extras = Abierto además
studio-extras-none = Ninguna apertura extra.
studio-there = Cuándo se reúne la clase, y quién está
studio-opening-add = Abrir cada semana
studio-opening-weekday = Los
studio-opening-from = De
studio-opening-to = A
studio-opening-to-hint = 00:00 significa el final del día.
studio-closure-add = Cerrar estos días
studio-closure-first = Primer día
studio-closure-last = Último día
studio-closure-last-hint = Vacío si es un solo día.
studio-closure-why = Por qué
studio-closure-why-holiday = Día festivo
studio-closure-why-building = El edificio está cerrado
studio-closure-why-staff = No hay nadie del personal
studio-extra-add = Abrir además este día
studio-extra-day = Día
studio-extra-from = De
studio-extra-to = A
studio-extra-reason = Por qué
studio-no-weekday = No hay ningún día de la semana marcado, o hay uno que no está en la lista. Marque al menos uno.
studio-ends-before = { $to } no es posterior a { $from }. Cambie una de las dos; un tramo que pasa de medianoche son dos.
studio-last-before-first = El último día es anterior al primero. Cambie uno de los dos.
studio-closed-too-long = Se pueden cerrar { $most } días de una vez como máximo. Envíelo por partes.
studio-closed-already = { $day } ya está cerrado. Quite antes ese cierre, o deje fuera el día.
studio-extra-on-closed = El taller está cerrado { $day }, y un cierre cierra el día entero. Quite antes el cierre.
studio-stations = Puestos
studio-stations-none = Todavía no se ha indicado ningún puesto. Los planes los necesitan: dónde se hacen los pasos y cuántos sitios hay.
studio-stations-none-read = Todavía no se ha indicado ningún puesto.
studio-station-add = Añadir un puesto
studio-station-change = Cambiar un puesto
studio-station-name = Nombre
studio-station-name-hint = Como se llama aquí, por ejemplo prensa grande.
studio-station-kind = Tipo
studio-station-kind-hint = Por esta palabra lo encuentra un paso de un procedimiento. Los procedimientos incluidos usan graining sink (pila de granear), etching table (mesa de acidular), slab (losa de entintar) y press (prensa); o use una palabra propia.
studio-station-units = Cuántos
studio-station-remove = Quitar el puesto
studio-station-remove-lead = Los planes dejan de contar con él enseguida.
studio-downs = No funciona
studio-downs-now = No funciona ahora o dentro de poco
studio-downs-none = No se ha indicado que algo no funcione.
studio-down-add = Indicar que algo no funciona
studio-down-end = Vuelve a funcionar
studio-down-by = indicado por { $who }
studio-down-station = Puesto
studio-down-unit = Qué unidad
studio-down-unit-hint = Las unidades de un puesto se cuentan desde 1.
studio-down-from = Desde
studio-down-to = Hasta
studio-down-to-hint = Vacío hasta que alguien diga aquí que vuelve a funcionar.
studio-down-why = Porque
studio-down-why-repair = Se está reparando
studio-down-why-part = Espera una pieza
studio-down-why-class = Está reservado para una clase
studio-down-zone = Las horas son locales, { $zone }. Desde entonces todos los planes y cartas dejan de contar con ello.
studio-down-flag = no funciona
studio-down-until = { $station }, unidad { $unit }, desde { $from } hasta { $to }: { $reason }
studio-down-open = { $station }, unidad { $unit }, desde { $from } hasta nuevo aviso: { $reason }
studio-down-no-unit = Este puesto tiene { $units } { $units ->
    [one] unidad, contada
   *[other] unidades, contadas
} desde 1. Elija una de ellas.
studio-down-backwards = El final no es posterior al comienzo. Cambie uno de los dos.
studio-down-over = Este final ya ha pasado. Déjelo vacío, o dé una hora futura.
studio-down-already = Ya se ha indicado que esta unidad no funciona durante todo ese tiempo. Dé otras horas, u otra unidad.
studio-containers = Recipientes
studio-usable = Se pueden usar
studio-usable-none = Nada de lo que hay en el estante puede usarse ahora.
studio-shelf-bare = Todavía no hay nada en el estante. Añada el primer recipiente: goma, ácido o una solución madre, tal como lo dice su etiqueta.
studio-shelf-bare-read = Todavía no hay nada en el estante. Quien lleva el taller añade los recipientes.
studio-not-to-use = No se deben usar
studio-finished = Acabados
studio-mark = Marca
studio-holds = Contiene
studio-figures = Cifras
studio-substance-gum = goma arábiga
studio-substance-phosphoric = ácido fosfórico
studio-substance-nitric = ácido nítrico
studio-substance-stock = solución madre
studio-baume = { FIGURE($value) } °Bé
studio-ph = pH { FIGURE($value) }
studio-weight = { FIGURE($value) } % en peso
studio-drops = { FIGURE($value) } gotas por mL
studio-drops-spread = { FIGURE($value) } ± { FIGURE($spread) } gotas por mL
studio-not-calibrated = cuentagotas sin calibrar
studio-do-not-use = no usar
studio-past-discard = pasado su último día
studio-sour = agria
studio-no-discard = sin indicar
studio-finished-on = acabado el { $day }
studio-container-add = Añadir un recipiente
studio-container-change = Cambiar un recipiente
studio-container-what = ¿Qué contiene?
studio-container-number = Recibe el siguiente número libre de { $letter }; escríbalo en la etiqueta.
studio-container-label = Lo que dice la etiqueta
studio-container-label-hint = Producto, fabricante, lote.
studio-container-opened = Abierto
studio-container-discard = Último día
studio-container-discard-hint = Después de este día no se debe usar.
studio-container-baume = Grados Baumé
studio-container-ph = pH medido
studio-container-sour = Se ha agriado
studio-container-weight = Por ciento en peso
studio-container-weight-hint = De la etiqueta o de la ficha de datos de seguridad, por ejemplo 85.
studio-container-drops_per_ml = Gotas por mL
studio-container-drops_spread = Más o menos
studio-container-do_not_use = No usar, porque
studio-container-note = Nota
studio-calibrate = Deje vacías las gotas mientras el cuentagotas no esté calibrado; entonces se cuentan 25 ± 8 gotas por mL. «Calibrar el cuentagotas» toma gotas de este ácido, contadas y pesadas donde la oficina de seguridad lo permite.
studio-opened-later = { $day } no ha llegado todavía. Dé el día en que se abrió.
studio-discard-before-opened = El último día es anterior al día en que se abrió. Cambie uno de los dos.
studio-spread-alone = Un margen necesita al lado las gotas por mL. Dé los dos, o deje los dos vacíos.
studio-spread-too-wide = El margen es tan grande como las propias gotas. Calibre otra vez, o deje los dos vacíos.
studio-figure-elsewhere = Esta cifra no corresponde a lo que contiene el recipiente. Déjela vacía.
studio-acid-without-weight = Un frasco de ácido necesita su por ciento en peso. Léalo en la etiqueta o en la ficha de datos de seguridad.
studio-finish = Se acabó
studio-finish-lead = Vacío, o desechado como dice el campus. Su marca no se da otra vez, porque los registros lo nombran.
studio-reopen = En realidad no se acabó
studio-reopen-lead = Figura como acabado.
studio-caution-acid = Ácido
studio-caution-gloves = Guantes y gafas de protección puestos antes de abrir un frasco.
studio-caution-order = El ácido en la goma o en el agua, nunca al revés.
studio-caution-eyewash = Sepa por dónde se va al lavaojos: { $eyewash }. Ácido en el ojo: enjuague enseguida, durante 15 minutos, y que alguien pida ayuda.
studio-caution-first = La ficha de datos de seguridad, las normas locales y la oficina de seguridad van antes que todo lo que aquí se dice.
done-studio-changed = El cambio está guardado.
done-opening-added = El horario está añadido.
done-opening-removed = El horario ya no está.
done-closure-added = El cierre está añadido.
done-closure-removed = El cierre ya no está; el día vuelve a abrir como su día de la semana.
done-extra-added = La apertura extra está añadida.
done-extra-removed = La apertura extra ya no está.
done-station-added = El puesto está añadido.
done-station-changed = El puesto está cambiado.
done-station-down = Indicado. Los planes y las cartas no cuentan con ello.
done-station-runs = Desde ahora se cuenta otra vez con ello.
done-station-removed = El puesto ya no está.
done-container-added = El recipiente está en el estante. Escriba su marca en la etiqueta.
done-container-changed = El recipiente está cambiado.
done-container-finished = El recipiente está acabado.
done-container-reopened = El recipiente está otra vez en el estante.

## ---- safety: topics and sign-offs ----
safety-grade-shown = demostrada
safety-grade-watched = observada
safety-grade-alone = a solas
safety-record = Registro de formación
safety-record-about = Qué se observó y cuándo. Las fichas de datos de seguridad, las normas locales y la oficina de seguridad de la escuela van antes que todo lo que aquí se guarda.
safety-topics = Listas de comprobación
safety-topic = Lista de comprobación
safety-grade = Grado
safety-show-sheet = Mostrar la hoja
safety-fresh = Recién firmado
safety-take-back = Retirar (hasta { $until })
safety-tick-all = Marcar todo para quienes están aquí
safety-who = Quién
safety-was-there = Estuvo
safety-point = { $number }
safety-so-far = Hasta ahora
safety-nothing-yet = aún no dada
safety-note = Nota (puede quedar vacía)
safety-look-over-button = Repasar y firmar
safety-look-over = Repase y luego firme
safety-you-sign = Usted firma «{ $title }», { $grade }, para:
safety-all-points = De cada persona vio usted todos los puntos:
safety-shown-means = Estuvieron cuando se demostró. Cuenta una vez que cada persona lo haya confirmado.
safety-ten-minutes = Después de firmar puede retirarla durante diez minutos; más tarde la retira un docente con un motivo.
safety-back = Volver a la hoja
safety-sign = Firmar
safety-nobody-ticked = No hay nadie marcado. Marque a quienes vio, o use «Marcar todo para quienes están aquí» y quite las excepciones.
safety-points-missing-for = { $name }: { $ticked } de { $all } puntos están marcados. Márquelos todos o ninguno.
safety-points-missing = Una habilitación observada o a solas exige todos los puntos de la lista. Marque todos los puntos o ninguno.
safety-not-yourself = Nadie se habilita a sí mismo. Quite su propia marca y deje que otra persona le observe.
safety-left-meanwhile = Alguien de quienes están marcados ya no está en la clase. Ya no figura en la hoja; revísela otra vez.
safety-sheet-unreadable = «{ $value }» no es una marca de esta hoja y se dejó fuera. Mire otra vez las marcas.
safety-topic-gone = Una de las listas marcadas ya no existe. Se dejó fuera; mire otra vez las marcas.
safety-no-assistant = Alguien marcado para observar ya no es ayudante de esta clase. Se dejó fuera; mire otra vez las marcas.
safety-no-people = Todavía no hay estudiantes en la clase. Antes viene la lista de clase, en «Personas».
safety-no-topics = Aquí no se usa ninguna lista de comprobación. El docente las elige en «Listas de comprobación».
safety-topic-stale = Alguien escribió mientras tanto una versión más reciente de esta lista. Ábrala otra vez y mire qué cambió.
safety-too-late-to-take-back = Los diez minutos han pasado. Un docente puede retirarla con un motivo.
safety-taken-back = retirada por quien la dio
safety-given-by = dada { $given } por { $by }
safety-valid-until = con vigencia hasta { $until }
safety-expired = venció { $until }
safety-acknowledge-what = Esto se le demostró. Confírmelo si estuvo y lo entendió.
safety-acknowledge = Estuve y lo entendí
safety-what-it-covers = Qué abarca
safety-who-can-give = Puede darla:
safety-version = Versión { $number } de la lista
safety-not-acknowledged = aún sin confirmar
safety-gone = ya no cuenta: { $reason }
safety-withdraw = Retirar
safety-withdraw-why-rules = No se respetó lo que se mostró
safety-withdraw-why-anew = Hay que mostrarlo de nuevo
safety-withdraw-why-person = Se dio a otra persona por error
safety-topics-about = Marque lo que esta clase necesita, y qué puede observar cada ayudante. Escribir una lista de nuevo crea una versión nueva; las habilitaciones dadas antes conservan la versión con que se dieron.
safety-write-anew = Escribir «{ $title }» de nuevo
safety-class-uses = Esta clase la usa
safety-may-witness = { $name } puede observarla
safety-keep-topics = Guardar
safety-topic-introduction = Introducción
safety-topic-points = Lo que se observa, un punto por línea
safety-topic-points-hint = Hasta 20 puntos, cada uno algo que se pueda ver hacer a alguien.
safety-topic-valid_days = Vigencia, en días
safety-topic-valid_days-hint = Vacío: sin final.
safety-new-version-about = La lista es de toda la escuela; la versión nueva vale desde ahora para todas las clases.
safety-keep-topic = Guardar como versión nueva
safety-topic-title = Nombre de la lista
safety-topic-add = Añadir una lista de comprobación
safety-topic-add-about = Es de toda la escuela. La práctica común, las fichas de seguridad y su oficina de seguridad dicen qué debe contener. Cuando esté guardada, márquela para su clase y nómbrela en los pasos que la exijan.
safety-topic-add-button = Guardar la lista
safety-topic-title-taken = Ya hay una lista con este nombre. Escriba esa de nuevo o elija otro nombre.
safety-too-many-points = { $count } puntos son demasiados para una hoja. No pase de 20.
done-signed = Firmado.
done-acknowledged = Confirmado.
done-taken-back = Retirado.
done-withdrawn = Retirado.
done-topics = Guardado.
done-topic-written = La versión nueva vale desde ahora.
done-topic-added = La lista está guardada. Márquela aquí si su clase la necesita.

## ---- plates: prints, plates, procedures ----
plates-new = Empezar una estampa
plates-new-project = Proyecto
plates-new-title = Título de la estampa
plates-new-edition_size = Tamaño de la tirada
plates-new-edition_size-hint = Vacío: como pide el proyecto.
plates-new-procedure = Procedimiento
plates-new-width = Anchura
plates-new-height = Altura
plates-new-size_unit = Unidad
plates-new-materials = Dibujada con
plates-new-materials-hint = Por ejemplo: lápiz 3, aguada de tinta litográfica.
plates-new-weight = El dibujo es
plates-new-note = Nota
plates-new-replaces = En lugar de
plates-unit-in = pulgadas
plates-unit-cm = centímetros
plates-weight-light = ligero
plates-weight-medium = medio
plates-weight-heavy = cargado
plates-begin = Empezar
plates-another = Otra plancha de esta estampa
plates-end-sheets = Hojas
plates-end-note = Nota
plates-down-gummed = Engomada
plates-down-buffed = Alisada fina y seca
plates-down-talc = Entalcada, con imagen de tinta
plates-down-rack_place = Lugar en el estante
plates-tell-step = Paso
plates-tell-began = Empezó
plates-tell-ended = Acabó
plates-tell-sheets = Hojas
plates-tell-note = Nota
plates-tell-card = Anotado después desde una ficha
plates-settle-why-looked = He mirado la plancha
plates-settle-why-agreed = Acordado en la mesa
plates-settle-why-log = Falla el registro, no el trabajo
plates-allow-step = Paso
plates-allow-why-beside = El docente está al lado
plates-allow-why-shown = Es parte de una demostración
plates-allow-why-looked = He mirado la plancha
plates-allow-about = Para un solo comienzo que una regla rechaza; donde falte una habilitación, esté usted al lado
plates-no-such-step = «{ $step }» no es un paso del procedimiento «{ $procedure }». Elija uno de sus pasos.
plates-ahead-of-now = { $value } no ha llegado todavía, y aquí solo se cuenta lo que ya ocurrió. Corrija la hora.
plates-long-before = { $value } queda más de { $days } días antes de que la plancha se anotara aquí. Corrija la fecha.
plates-ended-before-began = { $value } es anterior al comienzo. Corrija una de las dos horas.
plates-no-projects = Todavía no hay ningún proyecto. El docente escribe el primero en los ajustes de la clase.
plates-refused = Todavía no
plates-who-gives = Quién puede dar «{ $title }»
plates-when-there = En { $studio }
plates-ask-when = pregunte cuándo
plates-allow = Permitirlo una vez
plates-allow-button = Permitir este comienzo una vez
plates-allowed-used = { $step }: { $by } permitió un comienzo, { $at }, porque: { $why }. Usado { $used }.
plates-allowed-unused = { $step }: { $by } permitió un comienzo, { $at }, porque: { $why }. Sin usar hasta ahora.
plates-back = Volver a la plancha
plates-key = Clave de los cuadros
plates-state-not-yet = todavía no
plates-state-ready = listo
plates-state-resting = en reposo
plates-state-under-way = en marcha
plates-state-done = hecho
plates-state-outside = hecho fuera de los límites
plates-as-of = { $date }. Tal como estaba a las { $time }.
plates-look-again = Mirar otra vez
plates-may-do-now = Puede hacer esto ahora
plates-under-way-now = En marcha
plates-comes-next = Lo que sigue
plates-plate-of = Plancha { $number }
plates-along-log = Registro del { $at }
plates-plate-by = Plancha { $number } de { $who }
plates-start-by = Empiece antes de
plates-due-at = entrega { $due }
plates-takes = lleva { $minutes } min
plates-go-to-plate = A la plancha
plates-nothing-now = Ahora no le espera nada.
plates-none-yet = Todavía no tiene ninguna plancha. Empiece una estampa; su primera plancha empieza con ella.
plates-no-plates = Todavía nadie ha empezado una plancha. Un estudiante empieza una con una estampa, cuando el docente ha puesto un proyecto.
plates-held-up = Detenidas
plates-also-ready = También listas
plates-resting = En reposo
plates-rests-until = reposa hasta { $until }
plates-dates-ahead = Próximas fechas
plates-plate = Plancha
plates-plates = Planchas
plates-next = Paso siguiente
plates-print-due = Entrega de la estampa
plates-step = Paso
plates-since = Desde
plates-see-late = Planchas con retraso
plates-see-stuck = Planchas atascadas
plates-unsettled = Hecho fuera de las reglas, pendiente de que el docente lo resuelva
plates-waits-for-you = Espera al docente
plates-running = Ahora en marcha
plates-unsigned = Falta una habilitación
plates-empty-class = Todavía nadie ha empezado una plancha. Lo que hace falta antes:
first-topics = Ponga en uso las listas de comprobación
first-list = Traiga la lista de clase
first-project = Ponga un proyecto
plates-class-line = { $people } estudiantes, { $plates } planchas. Tal como estaba { $time }.
plates-which = Qué planchas
plates-class-caption = Todas las planchas de la clase, primero las que van con retraso o atascadas
plates-student = Estudiante
plates-way = Procedimiento
plates-now = Ahora
plates-in-hand = En curso
plates-count = { $count } { $count ->
    [one] plancha
   *[other] planchas
}
plates-heap-all = todas
plates-heap-late = con retraso
plates-heap-stuck = atascadas
plates-heap-yours = le esperan a usted
plates-to-settle = por decidir
plates-heap-on-course = en su curso
plates-heap-closed = cerradas
plates-flag-late = con retraso
plates-flag-stuck = atascada
plates-standing = Estado
plates-standing-bare = limpia
plates-standing-drawn = dibujada
plates-standing-etched = acidulada
plates-standing-under_gum = bajo goma
plates-standing-rolled_up = entintada
plates-standing-pulled = estampada
plates-standing-put_away = guardada
plates-standing-scrapped = desechada
plates-surface-plate = plancha
plates-surface-stone = piedra
plates-replaced = sustituida
plates-was-replaced = Otra plancha ha ocupado el lugar de esta.
plates-hand-in = Entregar la estampa
plates-handed-in = entregada
plates-handed-in-at = Entregada { $at }.
plates-take-back = Retirarla
plates-drawn-with = Dibujada con
plates-procedure = Procedimiento
plates-rack = estante { $place }
plates-gummed-at = engomada { $at }
plates-edition-of = tirada de { $sheets }
plates-runs-since = En marcha desde { $since }.
plates-before = Antes
plates-during = Durante
plates-after = Después
plates-then = después: { $step }
plates-sheets-count = { $sheets } hojas.
plates-read-procedure = Leer el procedimiento
plates-read-first = Lea primero: { $procedure }
plates-note-sheets = Hojas, contadas después de acabado el paso: { $sheets }.
plates-it-is-done = { $step } está hecho
plates-start-step = Empezar: { $step }
plates-caution = Precaución
plates-end-of-sitting = Al final de la sesión
plates-put-down = Guardar la plancha
plates-any-time = Correcciones y otros pasos
plates-replace = Perdida: empezar otra plancha en su lugar
plates-tell = Anotar un paso que ocurrió
plates-tell-about = Para algo hecho sin esta página, a su hora o desde una ficha
plates-began = Empezó
plates-ended = Acabó
plates-tell-button = Guardarlo
plates-done-so-far = Hecho hasta ahora
plates-known = Se sabe
plates-known-measured = por el reloj de aquí
plates-known-told = contado
plates-known-card = de una ficha
plates-remarks = Observaciones
plates-nothing-done = Nada todavía.
plates-waits-for-settling = espera al docente
plates-ordered-stands = Queda como está
plates-ordered-again = Hay que repetirlo
plates-rule-unknown-step = no está en el procedimiento
plates-rule-unsettled = antes de resolverse uno anterior
plates-rule-under-way = mientras otro estaba en marcha
plates-rule-ended = después de acabada la plancha
plates-rule-order = antes de su turno
plates-rule-after-any-of = sin lo que necesita antes
plates-rule-requires-since = sin lo que necesita en medio
plates-rule-once = más de una vez
plates-rule-rest = antes de acabar el reposo
plates-rule-sign-off = sin una habilitación vigente
plates-rule-left-off = dejado a medias
plates-waits-for-instructor = { $step } le corresponde al docente. Pídaselo.
plates-ended-already = Este paso ya está acabado.
plates-besides = En marcha además
plates-goes-on-besides = En marcha además: { $step }, desde { $since }.
plates-start-take-back = Empezado por error: deshacerlo
plates-too-late-to-take-back = Un comienzo se puede deshacer durante diez minutos mientras el paso sigue. Acabe el paso y diga en la nota qué pasó.
plates-kept-under-start = Con este comienzo está guardada una acidulación, o cómo salió una, así que no se deshace. Acabe el paso y diga en la nota qué pasó.
plates-nothing-to-settle = No hay nada que resolver: cumplió las reglas, o alguien lo resolvió ya.
plates-replaced-already = Otra plancha ha ocupado ya el lugar de esta.
plates-stale = Alguien cambió esta plancha mientras tanto. Mírela otra vez y luego guarde su cambio.
plates-buffed-without-gum = Una plancha se alisa después de engomada. Marque también «engomada», o quite la marca de «alisada».
done-print-begun = La estampa y su primera plancha están empezadas.
done-plate-begun = La plancha está empezada.
done-handed-in = Entregada.
done-taken-back-print = Retirada; ya no figura como entregada.
done-started = En marcha. El tiempo cuenta desde ahora.
done-ended = Guardado como hecho.
done-start-taken-back = El comienzo está deshecho.
done-noted-after = Este paso ya estaba acabado. Lo que escribió se añadió a su nota; su hora se mantiene.
done-told = Anotado.
done-told-outside = Guardado. Incumplió una regla del procedimiento, así que espera al docente antes de que la plancha siga.
done-settled = Resuelto.
done-allowed = Permitido una vez.
done-put-down = Guardada: engomada, alisada, en su lugar.
done-put-down-bare = Guardada, pero sin engomar y alisar en seco. El metal desnudo se oxida y toma tinta: engómela antes de irse.

## ---- plans: of a plate, of the class ----
plans-of-plate = Plan de la plancha { $number }
plans-see = Ver el plan
plans-own-due = (una fecha propia)
plans-first = Lo que va primero
plans-first-start = { $step } es lo primero que falla: empiécelo antes de { $by }, o la fecha de entrega no podrá cumplirse como estaba previsto.
plans-first-rest = { $step } es lo primero que falla: empiécelo antes de { $by }, o el reposo que lo precede será más largo de lo que puede ser.
plans-first-due = { $step } es el primer paso que no puede acabar antes de { $by }. Pida al docente otra fecha, o un camino más corto.
plans-first-no-place = { $step } no tiene sitio: ningún horario de los que quedan abarca sus { $minutes } de una vez. Pida una apertura más larga.
plans-nothing-left = No queda nada que planear en esta plancha.
plans-cannot = No puede hacerse un plan de esta plancha ni se sabe cuándo habría que empezar a más tardar. Su docente puede cambiar un reposo del procedimiento, o el tiempo máximo bajo goma seca de la clase.
plans-finish = Lo antes posible, todo está hecho { $finish }. No se conoce la fecha de entrega.
plans-in-time = Lo antes posible, todo está hecho { $finish }; la entrega es { $due }.
plans-not-in-time = Lo antes posible, todo está hecho { $finish }, después de la entrega: { $due }.
plans-at-shortest = Con los reposos mínimos en lugar de los aconsejados, todavía puede llegar a tiempo.
plans-steps = Pasos por hacer
plans-steps-about = Tal como estaba { $now }. Todas las horas son locales, { $zone }. Se trabaja en las horas de apertura, salvo lo que puede hacerse en cualquier parte; los reposos corren con el reloj.
plans-rest = Reposo anterior
plans-rests = { $rest }
plans-rests-until = reposa hasta { $until }
plans-earliest = Comienzo más temprano
plans-ends = acaba
plans-latest = Comienzo más tardío
plans-slack = Holgura en horas de apertura
plans-on-the-clock = con el reloj
plans-critical = sin margen antes del final
plans-breaks-first = lo primero que falla
plans-called-for = (lo exige una regla)
plans-may-split = por partes
plans-no-place = sin sitio
plans-longest-rest = pero antes de { $by }, por el reposo máximo
plans-anywhere = en cualquier parte
plans-instructor = con el docente
plans-picture = Lo mismo en una imagen
plans-picture-title = Línea de tiempo de la plancha { $number }
plans-picture-desc = Una línea por paso; la tabla de arriba dice lo mismo con palabras.
plans-picture-key = Negro: lo antes posible; un contorno puede hacerse por partes. Gris fino: el reposo anterior. Punteado: cuánto puede retrasarse. Vertical: la fecha de entrega.
plans-due = entrega
plans-estimate = Un plan es una estimación a partir de los minutos escritos en el procedimiento. No es una promesa, ni razón para tener prisa con el ácido, el disolvente o la prensa.
plans-class = Plan de la clase
plans-class-as-of = Tal como estaba { $now }.
plans-class-nothing = A ninguna estampa le queda nada por hacer. Empiece con un proyecto y la lista de clase.
plans-all-past = Todas las fechas de entrega han pasado, así que no hay desde dónde planear hacia atrás. Mueva una fecha de entrega para planear de nuevo.
plans-headline = { $fits } de { $asked } estampas encuentran sitio antes de sus fechas de entrega.
plans-bound = Otro orden podría dar sitio a más, pero nunca a más de { $bound }.
plans-without = Estampas sin sitio, primero las de entrega más próxima
plans-first-without = La primera sin sitio
plans-print-head = Estampa
plans-print = «{ $title }»
plans-print-not-begun = sin empezar: «{ $title }»
plans-pieces-too-short = Las horas alcanzarían, pero lo que queda está en trozos demasiado cortos, demasiado tarde o en un puesto que no sirve.
plans-unknown-stations = No se ha indicado ningún puesto para: { $stations }. Los pasos de allí se planean como si bastara con el taller abierto; añada el puesto para contar sus sitios.
plans-extra-on-closed = Una apertura extra { $day } no cuenta, porque ese día está cerrado.
plans-answers = Cómo está, y qué ayudaría
plans-if = Si
plans-now = tal como está
plans-if-evening = se abre además { $day } de { $from } a { $to }, cada semana
plans-if-one-evening = se abre además el { $day } de { $from } a { $to }, esa única vez
plans-if-sheets = tiradas de { $sheets } como máximo
plans-if-repaired = todo funciona: { $station }
plans-if-repaired-unit = unidad { $unit } en servicio: { $station }
plans-unit = { $station }, solo la unidad { $unit }
plans-others-counted = También cuentan, por sus fechas de entrega: { $count ->
    [one] 1 estampa más, de otra clase o proyecto, que comparte
   *[other] { $count } estampas más, de otras clases o proyectos, que comparten
} el taller, para entonces. De las horas que hacen falta, { $wanted } son para eso.
plans-fits = Estampas con sitio
plans-had = Horas que hay
plans-wanted = Horas que hacen falta
plans-short = Horas que faltan
plans-placed = Horas con sitio
plans-nobody = nadie
plans-no-more = no más que ahora
plans-more = { $count } más
plans-fewer = { $count } menos
plans-ask = ¿Y si…?
plans-ask-button = Calcular
plans-what-if-project = Proyecto
plans-all-projects = Todos
plans-no-evening = Ninguna apertura más
plans-none-repaired = Tal como está
plans-what-if-day = Una apertura más, cada
plans-what-if-date = O en una fecha
plans-what-if-from = De
plans-what-if-to = A
plans-what-if-sheets = Tiradas de como máximo
plans-what-if-repaired = Todo funciona en
plans-station-line = { $count } { $count ->
    [one] sitio
   *[other] sitios
}, { $had } de tiempo, { $wanted } necesarias
plans-short-by = faltan { $short }
plans-bars-title = Semanas de { $station }
plans-bars-desc = Las horas que hay y las que hacen falta cada semana; la tabla de al lado dice lo mismo con palabras.
plans-bars-key = Contorno: horas que hay. Negro: horas que hacen falta.
plans-weeks-about = Un paso cuenta en la semana de su comienzo más tardío; hecho antes, alivia esa semana.
plans-week = Semana desde
plans-feed-name = Taller de grabado
plans-feed-meeting = { $class }
plans-feed-there = { $who } está en el taller ({ $class })
plans-feed-open = Abierto: { $studio }
plans-feed-closed = Cerrado: { $studio }
plans-feed-due = Entrega: { $title }
plans-feed-start = A más tardar empiece ahora: { $step }, plancha { $number }, «{ $title }»
plans-feed-estimate = El comienzo más tardío según el plan, que es una estimación. La ficha de datos de seguridad y las reglas del propio taller van primero.
plans-leaving-same-day = Antes de irse: { $step } corresponde al día en que empezó el reposo que lo precede. Empiécelo antes de { $by }, o entalque la plancha y guárdela bajo goma.
plans-leaving-no-letter = Ninguna carta avisa de ello entre las { $from }:00 y las { $to }:00, ni un día en que el taller está cerrado.
plans-leaving-limit = Antes de irse: el reposo máximo antes de { $step } acaba { $limit }. Empiécelo antes de { $by }, u ocúpese de la plancha antes de entonces.
plans-class-estimate = Una estimación a partir de los minutos escritos en los procedimientos; una estampa cuenta solo si cada uno de sus pasos tiene sitio en su orden, y los pasos que no se dividen, dentro de una misma apertura. Horas locales, { $zone }.
## ---- procedures: reading and writing ----
procedures-list = Procedimientos
procedures-list-about = Por dónde pasan las planchas y piedras de esta clase. Copie uno y escriba el suyo; las planchas conservan la versión con la que empezaron.
procedures-procedure = Procedimiento
procedures-surface = Sobre
procedures-steps = Pasos
procedures-version = Versión
procedures-version-number = versión { $number }
procedures-never-kept = aún sin guardar
procedures-draft-open = borrador abierto
procedures-plates = Planchas
procedures-plates-keep = { $plates ->
    [one] { $plates } plancha conserva la versión { $number }
   *[other] { $plates } planchas conservan la versión { $number }
  }
procedures-plates-none = ninguna
procedures-do = Qué hacer
procedures-edit = Editar
procedures-copy-link = Copiar
procedures-new = Nuevo procedimiento
procedures-new-about = Escrito desde cero. Los pasos vienen después; nadie puede elegirlo hasta que usted lo guarde.
procedures-new-name = Nombre
procedures-new-surface = Dibujado sobre
procedures-new-button = Empezar el procedimiento
procedures-copy = Copiar un procedimiento
procedures-copy-about = Una copia de «{ $name }» que pertenece a esta clase. El original se queda como está.
procedures-copy-button = Hacer la copia
procedures-bring = Traer uno de un archivo
procedures-brought-file = Archivo
procedures-brought-file-hint = Un procedimiento sacado de aquí o de otra escuela: JSON, como máximo 300 kB. Las imágenes no viajan con él.
procedures-bring-button = Traerlo
procedures-take-out = Sacarlo como archivo
procedures-no-file = Elija antes el archivo de un procedimiento.
procedures-not-utf8 = El archivo no es texto en UTF-8. Guárdelo así y envíelo otra vez.
procedures-name-taken = Aquí ya se puede elegir un procedimiento «{ $value }». Dé otro nombre a este.
procedures-full = La clase tiene { $most } procedimientos propios, que es el máximo. Tire antes un borrador.
procedures-read = Leerlo como lo lee la clase
procedures-handout-line = Para una { $surface }, versión { $number }
procedures-older-version = Hay guardada una versión más reciente. Esta vale para las planchas que empezaron con ella.
procedures-gum-limit-line = El máximo bajo goma seca es de { $limit }, donde la clase no pone un límite propio.
procedures-comes-first = Las fichas de datos de seguridad, las normas locales y la oficina de seguridad de la escuela van antes que todo lo que aquí está escrito.
procedures-contents = Pasos
procedures-versions = Versiones
procedures-kept-on = guardada el { $day }
procedures-hands-on = Trabajo
procedures-where = Dónde
procedures-after = Después de
procedures-rest = Reposo anterior
procedures-sign-offs = Habilitaciones
procedures-marks = Además
procedures-rules = Reglas
procedures-recording = Grabación, desde el minuto { $minute }
procedures-source = Fuente: { $source }
procedures-any-time = Correcciones y otros pasos
procedures-any-time-about = Están fuera del camino y pueden hacerse en cualquier momento que permitan sus propias reglas.
procedures-any-time-none = Ninguno todavía. Aquí van engomar otra vez, las correcciones y abandonar una plancha.
procedures-any-gumming = cualquier engomado
procedures-said-per-sheet = { $fixed }, y { $sheet } por cada hoja
procedures-said-rest-minimum = al menos { $rest } (una regla)
procedures-said-rest-advised = se aconseja { $rest } (no es una regla)
procedures-said-rest-maximum = en un plazo de { $rest }
procedures-said-same-day = el mismo día
procedures-said-same-day-gum = el mismo día; lo cumple entintada, con talco y bajo goma
procedures-said-under-gum = dentro del límite bajo goma de la clase
procedures-said-rest-since = contado desde: { $since }
procedures-said-after-any-of = Antes hay que haber hecho uno de estos: { $of }.
procedures-said-requires-since = Una vez hecho esto: { $since }; antes tiene que seguir uno de estos: { $of }.
procedures-said-once = Como máximo una vez por plancha.
procedures-said-leaves = deja la plancha { $standing }
procedures-said-may-split = puede repartirse en varias sesiones
procedures-said-beside = junto a otros pasos
procedures-said-optional = una clase puede prescindir de él
procedures-said-gums = acaba bajo goma fresca
procedures-said-takes-gum-off = quita la goma
procedures-said-shows-etch = muestra cómo salió la acidulación
procedures-said-numbers = aquí se numera la tirada
procedures-said-then-nothing = nada puede seguirle
procedures-said-then-only = solo pueden seguirle: { $only }
procedures-place-anywhere = en cualquier parte
procedures-place-station = en un puesto
procedures-place-instructor = con el docente
procedures-records-nothing = nada más
procedures-records-etch = se registra una acidulación
procedures-records-proof = se guarda una prueba
procedures-records-go_ahead = se da el visto bueno
procedures-records-sheets = se cuentan hojas
procedures-maximum-minutes = un lapso de tiempo
procedures-maximum-same_day = el mismo día
procedures-maximum-under_gum = el límite bajo goma
procedures-rule-after_any_of = antes hay que haber hecho uno de algunos pasos
procedures-rule-requires_since = después de algunos pasos, otro tiene que seguir antes
procedures-rule-once = como máximo una vez por plancha
procedures-hazard-acid = ácido
procedures-hazard-nitric = ácido nítrico
procedures-hazard-solvent = disolvente
procedures-hazard-press = prensa
procedures-hazard-dust = polvo
procedures-hazard-lifting = cargar peso
procedures-draft-line = Borrador de la versión { $next }.
procedures-holds-line = Vale la versión { $number }. El primer cambio empieza un borrador; las planchas y las opciones se quedan como están hasta que usted lo guarde.
procedures-changed = Último cambio de { $who }, { $when }.
procedures-draft-stale = Alguien cambió este borrador mientras tanto. Aquí está como es ahora; mírelo y hágalo otra vez.
procedures-nothing-new = No se ha cambiado nada desde que este procedimiento se guardó por última vez, así que no hay versión nueva que guardar.
procedures-keep-head = Guardarlo como versión { $next }
procedures-keep = Guardar como versión { $next }
procedures-keep-about = Las planchas que se empiecen desde entonces la tienen. Las ya empezadas conservan la suya.
procedures-to-mend = { $count ->
    [one] Hay una cosa que arreglar antes de poder guardarlo; está en su paso.
   *[other] Hay { $count } cosas que arreglar antes de poder guardarlo; cada una está en su paso.
  }
procedures-discard = Tirar el borrador
procedures-discard-not = Seguir escribiendo
procedures-discard-steps = { $steps ->
    [one] El borrador tiene 1 paso.
   *[other] El borrador tiene { $steps } pasos.
}
procedures-discard-kept = La versión { $number } sigue valiendo para la clase.
procedures-discard-whole = Nunca se guardó una versión, así que el procedimiento se va con él.
procedures-discard-back = Puede recuperar el borrador desde la lista de procedimientos hasta que se empiece otro borrador del mismo.
procedures-thrown-away = Tirados
procedures-thrown-away-about = Borradores que se pueden recuperar hasta que se empiece otro del mismo procedimiento.
procedures-written-by = Escrito por última vez por
procedures-thrown-at = Tirado
procedures-take-back = Recuperar
procedures-step-gone = Alguien sacó este paso del borrador mientras usted escribía, así que no se guardó. Todo lo que escribió sigue aquí; guardarlo devuelve el paso, sin las imágenes que tenía.
procedures-way = El camino
procedures-way-about = En el orden en que se lee. Mover un paso cambia solo ese orden; qué espera a qué se dice en el paso.
procedures-way-empty = Ningún paso todavía. Añada abajo el primero.
procedures-step-title = Título
procedures-step-name = Paso
procedures-up = Arriba
procedures-down = Abajo
procedures-remove = Quitar
procedures-add-after = Añadir un paso después de
procedures-add = Añadir un paso
procedures-add-title = Título
procedures-add-title-hint = De él se hace una sola vez su clave en archivos y reglas, y así se queda.
procedures-add-after-hint = Vacío: al final del camino.
procedures-add-any_time = Fuera del camino: puede hacerse en cualquier momento
procedures-add-button = Añadir el paso
procedures-many-steps = Un procedimiento tiene { $most } pasos como máximo. Haga de él dos procedimientos, o quite un paso.
procedures-head = El procedimiento en conjunto
procedures-head-name = Nombre
procedures-head-surface = Dibujado sobre
procedures-head-about = Sobre él
procedures-head-about-hint = Unas pocas frases para quien lo elija.
procedures-head-gum_limit = Máximo bajo goma seca
procedures-head-gum_limit-hint = Por ejemplo 14 d. Un límite que la clase se ponga va primero.
procedures-head-button = Guardar esto en el borrador
procedures-step-of = Un paso de { $procedure }; su clave es { $key }.
procedures-back = Volver a los pasos
procedures-part-what = Qué se hace
procedures-part-time = Tiempo y lugar
procedures-part-order = Orden y reposo
procedures-part-safety = Seguridad
procedures-part-comes = Qué sale de ello
procedures-step-on_the_way = En el camino; sin marcar, puede hacerse en cualquier momento
procedures-step-before = Antes
procedures-step-before-hint = Una frase por línea.
procedures-step-during = Mientras se hace
procedures-step-during-hint = Una frase por línea.
procedures-step-afterwards = Después
procedures-step-afterwards-hint = Una frase por línea.
procedures-step-recording_link = Dirección de una grabación
procedures-step-recording_minute = Minuto en que empezar
procedures-step-source = Fuente
procedures-step-source-hint = De dónde vienen cifras y palabras, o bien: práctica común, sin fuente publicada.
procedures-step-minutes = Tiempo de trabajo
procedures-step-minutes-hint = Por ejemplo 45 min, 4 h o 1 h 30 min; un número solo son minutos.
procedures-step-per_sheet = Y por cada hoja
procedures-step-may_split = Puede repartirse en varias sesiones
procedures-step-beside_others = No retiene la plancha: junto a otros pasos
procedures-step-place = Dónde
procedures-step-station = Puesto
procedures-step-station-hint = Con la palabra de su tipo, por ejemplo etching table (mesa de acidular).
procedures-step-after = Va después de
procedures-step-rest_minimum = Reposo mínimo
procedures-step-rest_minimum-hint = Una regla: no se empieza antes. Por ejemplo 12 h o 1 d 6 h.
procedures-step-rest_advised = Reposo aconsejado
procedures-step-rest_advised-hint = Cuenta en los planes; es un consejo, no una regla.
procedures-step-maximum = Reposo máximo
procedures-step-maximum_time = Cuánto tiempo
procedures-step-maximum_time-hint = Donde el reposo máximo es un lapso de tiempo.
procedures-step-met_by_talc_and_gum = Lo del mismo día se cumple entintada, con talco y bajo goma
procedures-rest-since-open = El reposo se cuenta desde otros pasos
procedures-step-rest_since = Contado desde el último de
procedures-step-hazards = Qué puede hacer daño aquí
procedures-step-hazards-hint = De cada uno se muestran las precauciones de la casa; la ficha de datos de seguridad, las normas locales y la oficina de seguridad van primero.
procedures-sign-off-on = Habilitación: { $topic }
procedures-sign-off-none = no hace falta
procedures-rules-about = Lo que tiene que haber ocurrido antes, más allá del orden. Una regla rechaza un comienzo; lo que se hizo en contra se guarda con el nombre de la regla.
procedures-rule-add = Añadir una regla
procedures-rule-field = Regla { $number }: { $label }
procedures-step-need-kind = La regla
procedures-step-need-kind-hint = Vacío: ninguna regla así.
procedures-step-need-of = Hace falta uno de estos
procedures-step-need-since = Una vez hecho esto
procedures-step-need-since-hint = Para una regla sobre lo que tiene que seguir.
procedures-step-need-because = Porque
procedures-step-records = Deja en el registro
procedures-step-leaves = Deja la plancha
procedures-step-counts_as = Cuenta como
procedures-step-counts_as-hint = Palabras para las reglas, separadas por comas: propias, como etch, o la clave de otro paso.
procedures-step-gums = Acaba con goma fresca, alisada en seco: el reloj de la goma empieza de nuevo
procedures-step-takes_gum_off = Quita la goma: el reloj de la goma se para
procedures-step-shows_etch = Muestra cómo salió la acidulación, así que se pregunta aquí
procedures-step-numbers_edition = Aquí se numera la tirada
procedures-step-optional = Una clase puede prescindir de él
procedures-step-never_waits = No espera nunca: protege la plancha o la acaba
procedures-closes-open = Después de él solo pueden seguir algunos pasos
procedures-step-closes = Una vez hecho, solo pueden empezarse los pasos marcados aquí
procedures-step-then_only = Estos pueden seguirle
procedures-step-keep = Guardar el paso en el borrador
procedures-no-span = «{ $value }» no es un lapso de tiempo. Escríbalo como 45 min, 12 h o 1 d 6 h; un número solo son minutos.
procedures-span-range = «{ $value }» queda fuera de lo posible: de { $least } a { $most }.
procedures-line-long = «{ $value }» es una línea demasiado larga. No pase de { $most } caracteres en cada una.
procedures-many-lines = Son { $count } líneas. No pase de { $most }.
procedures-no-link = Esto no es la dirección de una grabación. Escríbala con https:// delante y sin espacios.
procedures-minute-without-link = Un minuto en que empezar necesita la dirección de la grabación. Escríbala, o quite el minuto.
procedures-station-missing = Nombre el tipo de puesto, o elija otro lugar.
procedures-after-itself = Un paso no puede ir después de sí mismo. Quite la marca.
procedures-maximum-missing = Diga cuánto tiempo, o elija otro reposo máximo.
procedures-rule-names-nothing = Esta regla no nombra ningún paso. Marque al menos uno, o deje vacía la regla.
procedures-no-word = «{ $value }» no puede ser una palabra en las reglas. Use letras y cifras; «gummed» está ocupada.
procedures-pictures = Imágenes
procedures-pictures-about = Cómo debe verse, y cómo se ve lo que está mal. Una imagen se guarda enseguida; el resto del paso, con su propio botón.
procedures-picture-file = Imagen
procedures-picture-file-hint = JPEG, PNG o WebP, como máximo 25 MB.
procedures-picture-shows = Muestra
procedures-picture-caption = Qué hay que ver en ella
procedures-picture-button = Añadir la imagen
procedures-picture-remove = Quitar la imagen
procedures-shows-right = cómo debe verse
procedures-shows-wrong = cómo se ve lo que está mal
procedures-many-pictures = Un paso tiene { $most } imágenes como máximo. Quite antes una.
done-picture-added = La imagen está añadida.
done-picture-removed = La imagen está quitada; las versiones guardadas con ella la siguen mostrando.
done-procedure-copied = La copia está hecha; es la versión 1 y ya se puede elegir.
done-procedure-begun = Empezado. Añada sus pasos.
done-procedure-brought = Traído como borrador. Repáselo y guárdelo.
done-procedure-head = Guardado en el borrador.
done-procedure-kept = Guardado. Las planchas que se empiecen desde ahora tienen esta versión.
done-draft-discarded = El borrador está tirado. Figura abajo y se puede recuperar.
done-draft-taken-back = El borrador está otra vez como estaba.
done-step-added = El paso está añadido. Diga qué se hace en él.
done-step-kept = El paso está guardado en el borrador.
done-step-moved = Movido.
done-step-removed = Quitado. Lo que lo esperaba espera ahora a lo que iba antes.

## ---- etches: logs ----
etches-new = Registrar la acidulación
etches-log = Registro de acidulación
etches-logs = Registros de acidulación
etches-class = Registros de acidulación de la clase
etches-amend = Corregir el registro
etches-back-log = Volver al registro
etches-etch = Acidulación
etches-when = Cuándo
etches-mixture = Mezcla
etches-strength = Fuerza, calculada
etches-applications = Aplicaciones
etches-came-up = Cómo salió
etches-in-minutes = minutos y segundos
etches-table-of-class = La tabla de la clase, hoy
etches-table-row = { $row }. { $how_long }
etches-table-row-guess = Una suposición, pues ninguna fila nombra este dibujo o lo hacen varias: { $row }. { $how_long }
etches-written = Anotado
etches-corrected = corregido
etches-told-twice = contado de otro modo por otro teléfono
etches-earlier = Entradas anteriores de este registro
etches-first-entry = primera entrada
etches-why = Corregido: { $reason } ({ $by }, { $at })
etches-log-recipe = Lo que se puso en la plancha
etches-recipe-acid_in_gum = ácido en goma
etches-recipe-pure_gum = goma pura
etches-recipe-stock = solución madre tal cual
etches-recipe-stock_cut = solución madre rebajada con goma
etches-part-gum = Goma
etches-part-acid = Ácido
etches-part-stock = Solución madre
etches-acid-phosphoric = ácido fosfórico
etches-acid-nitric = ácido nítrico
etches-log-unit = Unidad
etches-log-gum = Goma de
etches-log-gum_volume = Goma
etches-log-gum_volume-ounces = Goma, fl oz de EE. UU.
etches-log-gum_volume-ml = Goma, mL
etches-log-acid = Ácido de
etches-log-drops = Gotas de ácido
etches-log-stock = Solución madre de
etches-log-stock_volume = Solución madre
etches-log-stock_volume-ounces = Solución madre, fl oz de EE. UU.
etches-log-stock_volume-ml = Solución madre, mL
etches-with-stock = Con una solución madre
etches-applications-lead = Minutos de cada aplicación: 2; 1,5 o 2:30
etches-more-applications = Más de tres aplicaciones
etches-log-application_1 = Primera
etches-log-application_2 = Segunda
etches-log-application_3 = Tercera
etches-log-application_4 = Cuarta
etches-log-application_5 = Quinta
etches-log-application_6 = Sexta
etches-log-application_7 = Séptima
etches-log-application_8 = Octava
etches-log-application_9 = Novena
etches-log-application_10 = Décima
etches-log-application_11 = Undécima
etches-log-application_12 = Duodécima
etches-log-tool = Aplicada con
etches-log-helper = Segunda persona
etches-log-measured_ph = pH medido en la mezcla
etches-log-measured_ph-hint = Con tira o medidor. Va antes que cualquier estimación.
etches-log-seen = Lo que se vio
etches-log-run = Paso
etches-log-step = Paso
etches-log-began = Empezó
etches-log-ended = Acabó
etches-log-card = Anotado después desde una ficha
etches-log-gummed = Engomada
etches-log-buffed = Alisada fina y seca
etches-log-talc = Entalcada antes de la goma
etches-log-rack_place = Lugar en el estante
etches-log-goes_on = La sesión sigue: la plancha no se guarda todavía
etches-log-why = Por qué se corrige
etches-log-why-slip = Mal escrito
etches-log-why-measured = Medido de nuevo
etches-log-why-left_out = Faltaba algo
etches-log-version = Entrada
etches-afterwards = La plancha después
etches-rack-place-missing = Diga en qué lugar del estante está la plancha, o marque que la sesión sigue.
etches-carried = Tomado del registro de { $at }. Cambie lo que fue distinto.
etches-in-running = En marcha desde { $since }; acaba cuando usted guarde el registro.
etches-in-ended = Hecho de { $since } a { $ended }.
etches-another-time = Fue a otra hora
etches-told-lead = No hay ningún paso de acidulación en marcha. Diga cuál fue y cuándo; lo que incumplió una regla se guarda y se marca.
etches-amend-lead = La entrada que vale se conserva y se puede seguir leyendo; la suya ocupa su lugar. Las cifras de sus recipientes quedan como eran entonces.
etches-store = Guardar el registro
etches-store-amended = Guardar la corrección
etches-not-named = no de un recipiente etiquetado
etches-figure-baume = { FIGURE($value) } °Bé
etches-figure-ph = pH { FIGURE($value) }
etches-figure-weight = { FIGURE($value) } %
etches-figure-sour = agria
etches-figure-drops = { FIGURE($value) } gotas por mL
etches-figure-drops-spread = { FIGURE($value) } ± { FIGURE($spread) } gotas por mL
etches-not-calibrated = cuentagotas sin calibrar
etches-usable-do-not-use = no usar
etches-usable-past-discard = pasada su fecha de desecho
etches-usable-finished = acabado
etches-doubt-do-not-use = { $part } { $mark } está marcado «no usar»
etches-doubt-past-discard = { $part } { $mark } había pasado su fecha de desecho
etches-doubt-finished = { $part } { $mark } se había acabado antes
etches-doubt-not-named = { $part } de ningún recipiente etiquetado
etches-container-unknown = Este recipiente no está en el estante del taller, o contiene otra cosa. Elija de la lista.
etches-applications-count = Dé de 1 a { $most } aplicaciones.
etches-no-minutes = «{ $value }» no es un tiempo. Escriba los minutos como 2; 1,5 o 2:30.
etches-minutes-outside = Una aplicación dura más que nada y como máximo 60 minutos. Escriba minutos, como 2 o 2:30.
etches-no-etching-step = Este paso no registra ninguna acidulación. Elija un paso de acidulación.
etches-stale = Otra persona cambió esto mientras tanto. Compare y guarde otra vez lo suyo.
etches-ounces = { FIGURE($value) } fl oz de EE. UU.
etches-millilitres = { FIGURE($value) } mL
etches-amount-of = { $amount } de { $mark }
etches-amount-untold = cantidad sin indicar
etches-drops = { $drops } { $drops ->
    [one] gota
   *[other] gotas
}
etches-per-ounce = { FIGURE($drops) } gotas por fl oz de EE. UU. de goma
etches-acid-volume = { FIGURE($at) } mL (de { FIGURE($low) } a { FIGURE($high) })
etches-acid-in-it = Ácido que contiene
etches-span = el intervalo es el del cuentagotas
etches-molarity = Ácido por cantidad de sustancia
etches-by-weight = Ácido en peso
etches-molar = { FIGURE($value) } mol/L
etches-percent = { FIGURE($value) } %
etches-stock-share = { FIGURE($share) } de solución madre
etches-share-of-stock = Parte de solución madre, en volumen
etches-ph = pH
etches-ph-is-estimate = Calculado a partir de la receta. La goma amortigua y las gomas difieren: una estimación, no una medición.
etches-caution = Precaución: el ácido quema la piel y los ojos
etches-caution-left-over = La mezcla sobrante se desecha como dice el campus; una mezcla que se conserva va a un recipiente etiquetado.
etches-how-did = ¿Cómo salió? { $step }
etches-how-shown = { $step } de { $at }, mostrado por: { $shown }. Basta un toque.
etches-how-as-drawn = como se dibujó
etches-how-burned = quemada: tonos claros perdidos
etches-how-weak = débil en toda la imagen
etches-how-filled-in = empastada: los oscuros se cerraron
etches-how-uneven = desigual
etches-how-border-dirt = suciedad en el borde
etches-how-border-veil = velo en el borde
etches-how-otherwise = de otro modo, según la nota
etches-not-told = aún sin indicar
etches-came-up-how = Salió
etches-came-up-note = Con sus propias palabras
etches-came-up-version = Entrada
etches-came-up-note-missing = Diga en la nota cómo salió.
etches-tell-came-up = Contar cómo salió
etches-correct-came-up = Corregir esto
etches-store-came-up = Guardarlo
etches-told-by = { $by }, { $at }
etches-unlogged = { $step } de { $at } no tiene registro todavía.
etches-log-it = Registrarla
etches-none-on-plate = Todavía no se ha registrado ninguna acidulación de esta plancha.
etches-none = Todavía no se ha registrado ninguna acidulación en esta clase. Se registra desde la página de una plancha, cuando su acidulación está en curso.
etches-none-such = Ningún registro encaja. Amplíe la búsqueda.
etches-filter-container = Recipiente
etches-filter-came_up = Cómo salió
etches-any = cualquiera
etches-nobody = de nadie
etches-filter-person = Marcar en la imagen
etches-own = Sus registros de acidulación
etches-picture = La fuerza frente a cómo salió
etches-picture-desc = Una fila por cada manera de salir las acidulaciones, una señal por acidulación: cuanto más a la derecha, más fuerte fue. Al final de cada fila figura cuántas hay, porque las señales pueden taparse. La tabla de al lado dice lo mismo.
etches-picture-unit = Ácido en la mezcla, mol/L
etches-picture-about = Lo que se vio, no una prueba: el dibujo, la goma y el tiempo difieren de plancha a plancha, y el margen del cuentagotas está en cada fuerza.
etches-picture-marked = Señales llenas: { $who }.
etches-picture-yours = sus propias planchas
etches-picture-left-out = { $count ->
    [one] 1 acidulación queda fuera: no se ha contado cómo salió, o su fuerza no se puede calcular.
   *[other] { $count } acidulaciones quedan fuera: no se ha contado cómo salieron, o su fuerza no se puede calcular.
}
etches-picture-count = Acidulaciones
etches-picture-own = Señales llenas
etches-picture-weakest = La más débil
etches-picture-middle = La del medio
etches-picture-strongest = La más fuerte
etches-narrow = Acotar la lista
etches-show-all = Mostrar todo
etches-compare = El error de un pH estimado es común a todas las mezclas de una misma goma y un mismo frasco: dentro de un lote, compare por gotas.
etches-newer = Registros más recientes
etches-older = Registros más antiguos
done-etch-recorded = La acidulación está registrada.
done-etch-recorded-bare = La acidulación está registrada, pero la plancha no está engomada y alisada en seco. El metal desnudo se oxida y toma tinta: engómela antes de irse.
done-etch-recorded-outside = La acidulación está registrada. Incumplió una regla del procedimiento, así que espera al docente antes de que la plancha siga.
done-etch-amended = Vale la corrección; la entrada anterior se conserva abajo.
done-etch-came-up = Guardado con la acidulación.

## ---- mixing: etches, droppers, data sheets, labels ----
mixing-table = Acidulaciones según el dibujo
mixing-mix = Preparar una mezcla
mixing-mix-for = Mezcla para la plancha { $number }
mixing-left = Cuánto queda, y para cuánto alcanza
mixing-gum_left = Queda de la goma o solución madre
mixing-gum_left-hint = En la unidad elegida arriba, a ojo o por la escala.
mixing-acid_left = Queda del ácido, mL
mixing-lasts-gum = { FIGURE($left) } que quedan en { $mark } alcanzan para { $mixes ->
    [0] ninguna mezcla más
    [one] 1 mezcla más
   *[other] { $mixes } mezclas más
} como esta.
mixing-lasts-acid = { FIGURE($left) } que quedan en { $mark } alcanzan para { $mixes ->
    [0] ninguna mezcla más
    [one] 1 mezcla más
   *[other] { $mixes } mezclas más
} como esta; según el cuentagotas, de { $low } a { $high }.
mixing-lasts-told = Lo que queda se ha indicado, no se ha medido aquí; un frasco nunca se usa hasta la última gota.
mixing-outcome = En qué resulta
mixing-for-plate = Para la plancha { $number }
mixing-unit-us_fl_oz = onzas líquidas estadounidenses
mixing-unit-ml = mL
mixing-unit-imp_fl_oz = onzas líquidas imperiales
mixing-unit-imperial = Una onza líquida imperial (28,41 mL) es menor que la estadounidense (29,57 mL), y una mezcla contada con ella saldría demasiado fuerte. Mida en mL, o con una medida estadounidense y elija onzas líquidas estadounidenses.
mixing-unit-other = «{ $value }» no es una unidad de aquí. Elija onzas líquidas estadounidenses o mL.
mixing-surface = Para una
mixing-row = Fila de la tabla de la clase
mixing-row-hint = Da las gotas cuando abajo no se cuenta ninguna.
mixing-gum = Goma
mixing-volume = Cuánta goma
mixing-unit = Medido en
mixing-acid = Ácido
mixing-drops = Gotas de ácido
mixing-drops-hint = Gotas enteras; 0 para goma pura. Vacío toma la fila de la tabla.
mixing-measured_ph = pH medido en la mezcla
mixing-measured_ph-hint = Con tira o medidor. Va antes que cualquier estimación.
mixing-stock = Solución madre
mixing-stock-hint = Tal cual: no elija goma. Rebajada con goma: elija las dos.
mixing-stock_volume = Cuánta solución madre
mixing-reckon = Calcular
mixing-nothing-stored = Aquí no se guarda nada. La dirección de esta página conserva la mezcla: márquela o pásela a otra persona.
mixing-bottle-gone = Este frasco no está en el estante, o no contiene eso. Elija de la lista.
mixing-row-gone = Esta fila ya no está en la tabla. Elija de la lista.
mixing-nothing-chosen = Elija goma o una solución madre; todavía no hay nada que calcular.
mixing-drops-untold = ¿Cuántas gotas? Cuente gotas enteras, 0 para goma pura, o elija una fila de la tabla.
mixing-acid-untold = ¿Gotas de qué ácido? Elija el frasco.
mixing-stock-with-acid = A una solución madre no se le echan gotas de ácido: aquí nadie sabe qué contiene ya. No elija ácido, o no elija solución madre.
mixing-some = algo
mixing-of-gum = { $amount } de goma de { $mark } en el vaso
mixing-of-stock = { $amount } de solución madre de { $mark }
mixing-of-acid = { $drops ->
    [one] { FIGURE($drops) } gota de ácido
   *[other] { FIGURE($drops) } gotas de ácido
} de { $mark } dentro, lejos de la plancha, y remueva
mixing-warning = Precaución
mixing-from-to = de { FIGURE($low) } a { FIGURE($high) } según el cuentagotas
mixing-figure-acid = Ácido
mixing-figure-mixture = En total
mixing-figure-mol = Ácido que contiene
mixing-figure-percent = Ácido en peso
mixing-figure-water = pH si fuera agua
mixing-figure-water-note = para comparar; la goma lo frena
mixing-figure-share = Solución madre que contiene
mixing-no-percent = no se sabe: la goma no tiene grados Baumé
mixing-window = La clase trabaja entre pH { FIGURE($low) } y { FIGURE($high) }.
mixing-window-inside = Está dentro del intervalo de la clase, de pH { FIGURE($low) } a { FIGURE($high) }.
mixing-window-partly = La clase trabaja entre pH { FIGURE($low) } y { FIGURE($high) }: la estimación llega más allá. Mídalo.
mixing-window-outside = La clase trabaja entre pH { FIGURE($low) } y { FIGURE($high) }: esto queda fuera.
mixing-past-discard = { $mark } debía usarse hasta { $day } y ese día ha pasado. Tome otro, o pregunte a quien lleva el estante.
mixing-do-not-use = { $mark } está marcado «no usar»: { $why }
mixing-finished = { $mark } se ha acabado.
mixing-row-words = { $material }, { FIGURE($weight) }: { FIGURE($drops) } gotas por onza líquida
mixing-beside-same = La tabla de la clase tiene lo mismo: { $row }.
mixing-beside-other = La tabla de la clase tiene { $row }, que para esta cantidad de goma son { FIGURE($counted) }; aquí se cuentan { FIGURE($drops) }.
mixing-how-long = Se da en { $applications ->
    [one] una aplicación
   *[other] { $applications } aplicaciones
} de { $time }. Fuente de la fila: { $source }
mixing-label-mix = Etiqueta para esta mezcla
mixing-cautions = Antes de abrir un frasco
mixing-caution-wear = Guantes y gafas de protección puestos; un delantal.
mixing-caution-order = El ácido en la goma, nunca goma ni agua sobre el ácido.
mixing-caution-eyewash = El lavaojos tiene que funcionar y el camino hasta él estar libre siempre que el frasco de ácido esté abierto: { $eyewash }. Ácido en el ojo: enjuague enseguida, durante 15 minutos, y que alguien pida ayuda.
mixing-caution-nitric = El ácido nítrico es un oxidante con un tema de habilitación propio: solo bajo la campana, lejos de disolventes y trapos, y sus residuos aparte de todos los demás.
mixing-caution-office = Oficina de seguridad del campus: { $office }
mixing-sheet-link = Ficha de datos de { $mark }
mixing-sheet-by = { $supplier }, revisada { $revised }
mixing-sheet-none = No hay ficha de datos archivada para { $mark }.
mixing-table-own = La tabla propia del docente, por onza líquida estadounidense de goma. El pH de arriba está calculado; lo que le conviene a un dibujo, no.
mixing-table-none = La clase no tiene todavía una tabla de acidulaciones. Pregunte al docente cuántas gotas pide un dibujo.
mixing-table-change = Cambiar la tabla
mixing-table-about = Por lo que se guía esta clase, por onza líquida estadounidense de goma. La página de mezclas la muestra junto a la fuerza calculada. Vacíe una fila para quitarla.
mixing-table-proposed = Nadie ha guardado todavía una tabla. Las filas de abajo se proponen según la práctica común, de memoria, sin fuente publicada; cambie lo que usted enseñe de otro modo. Una vez guardadas son suyas.
mixing-propose-stone = Proponer también filas para piedras
mixing-proposed-pencil = lápiz, lápiz litográfico 5
mixing-proposed-light = lápiz litográfico 4 a 5
mixing-proposed-medium = lápiz litográfico 3 a 4
mixing-proposed-strong = lápiz litográfico 1 a 2
mixing-proposed-solid = masas de tinta litográfica
mixing-proposed-none = Goma pura; práctica común, sin fuente publicada
mixing-proposed-source = Centro de { FIGURE($low) } a { FIGURE($high) } gotas; práctica común, sin fuente publicada
mixing-table-row = Fila { $number }
mixing-table-row-field = { $field }, fila { $number }
mixing-table-material = Dibujada con
mixing-table-weight = El dibujo es
mixing-table-surface = Sobre una
mixing-table-drops = Gotas por fl oz de EE. UU.
mixing-table-applications = Aplicaciones
mixing-table-seconds = Segundos cada una
mixing-table-applied = Aplicación
mixing-table-times = { $times } × { FIGURE($each) }
mixing-table-source = Fuente
mixing-table-keep = Guardar la tabla
mixing-table-empty = No queda ninguna fila. Rellene al menos una.
mixing-stands-now = Lo que vale ahora
done-etch-table = La tabla está guardada. Ahora es la propia de la clase.
mixing-dilute = Diluir ácido
mixing-dilution-acid = De
mixing-dilution-wanted = Por ciento en peso que se quiere
mixing-dilution-total = Qué cantidad
mixing-dilution-unit = Medido en
mixing-dilution-steps = El ácido en el agua, nunca al revés
mixing-dilution-step-water = Ponga primero en el recipiente más o menos la mitad del agua, { FIGURE($water) } g (otros tantos mL).
mixing-dilution-step-acid = Añada { FIGURE($ml) } mL ({ FIGURE($grams) } g) del ácido al { FIGURE($percent) } % de { $mark }, despacio y removiendo; se calienta.
mixing-dilution-step-up = Deje que se enfríe y complete con agua hasta { FIGURE($total) }: { FIGURE($water) } g de agua en total.
mixing-dilution-step-made = Es ácido { $kind ->
    [nitric] nítrico
   *[other] fosfórico
} al { FIGURE($percent) } %, { FIGURE($mol) } mol/L. Etiquételo antes de soltarlo de la mano.
mixing-dropper = Calibrar el cuentagotas
mixing-dropper-of = El cuentagotas de { $mark }
mixing-back-container = A { $mark }
mixing-dropper-not = Sin calibrar; se cuenta como 25 ± 8 gotas por mL.
mixing-dropper-lead = Deje caer gotas del propio ácido en un vasito sobre la balanza, en vertical y despacio, como en la mesa. Las gotas de agua dirían otra cosa, y el ácido se pesa solo donde la oficina de seguridad lo permite. Después las gotas van a los residuos de acidulación como dice el campus.
mixing-dropper-density = El ácido, según dice el frasco, pesa { FIGURE($density) } g/mL.
mixing-dropper-drops = Gotas contadas
mixing-dropper-drops-hint = Con 20 o más es más seguro.
mixing-dropper-grams = Gramos pesados
mixing-dropper-grams-hint = Solo las gotas, sin el vaso.
mixing-dropper-spread = Más o menos, en gotas por mL
mixing-dropper-spread-hint = De pesar otra vez. Vacío toma una décima parte.
mixing-dropper-keep = Guardar la pesada
mixing-dropper-arithmetic = { FIGURE($drops) } gotas × { FIGURE($density) } g/mL ÷ { FIGURE($grams) } g = { FIGURE($value) } gotas por mL
mixing-weighings = Pesado hasta ahora
mixing-weighed-at = El
mixing-weighed-by = Por
mixing-weighed-how = Cómo sale
mixing-weighed-kept = Guardado como
done-dropper-weighed = La pesada está guardada, y el frasco vale con ella.
mixing-sheet = Ficha de datos
mixing-sheet-missing = No hay ficha de datos archivada
mixing-sheet-of = Ficha de datos de { $mark }
mixing-sheet-there = Archivada
mixing-sheet-open = Abrir la ficha (PDF, { $kilobytes } kB)
mixing-sheet-ask = El personal puede poner una. Hasta entonces, pídala al proveedor o a la oficina de seguridad del campus antes de abrir el frasco.
mixing-sheet-filed-by = Archivada por { $who } el { $day }.
mixing-sheet-put = Archivar la ficha
mixing-sheet-change = Cambiar lo archivado
mixing-sheet-file = La ficha del proveedor
mixing-sheet-file-hint = Un PDF de 10 MB como máximo.
mixing-sheet-new-file = Una ficha más reciente
mixing-sheet-new-file-hint = Un PDF de 10 MB como máximo. Vacío conserva la archivada.
mixing-sheet-product = Producto
mixing-sheet-product-hint = Como lo nombra la ficha. La ficha vale entonces para todos los frascos con las mismas palabras en su etiqueta.
mixing-sheet-supplier = Proveedor
mixing-sheet-revised = Revisada el
mixing-sheet-signal = Palabra de advertencia
mixing-signal-danger = Peligro
mixing-signal-warning = Atención
mixing-signal-none = sin palabra de advertencia
mixing-sheet-hazards = Peligros
mixing-sheet-hazards-hint = Las indicaciones de peligro de la sección 2, una por línea. Van a las etiquetas.
mixing-sheet-pictograms = Pictogramas
mixing-pictogram-exploding-bomb = bomba explotando
mixing-pictogram-flame = llama
mixing-pictogram-flame-over-circle = llama sobre círculo
mixing-pictogram-gas-cylinder = bombona de gas
mixing-pictogram-corrosion = corrosión
mixing-pictogram-skull-and-crossbones = calavera y tibias cruzadas
mixing-pictogram-exclamation-mark = signo de exclamación
mixing-pictogram-health-hazard = peligro para la salud
mixing-pictogram-environment = medio ambiente
mixing-hazards-none = ninguno según la ficha
mixing-pictograms-none = ninguno según la ficha
mixing-sheet-keep = Archivarla
mixing-sheet-no-file = Todavía no hay ficha de datos archivada. Elija el PDF del proveedor.
mixing-sheet-no-pdf = Este archivo no es un PDF completo. Elija la ficha tal como la da el proveedor, o imprímala en un PDF.
mixing-sheet-later = Este día no ha llegado todavía. Lea en la ficha la fecha de revisión.
mixing-sheet-no-hazards = Un producto con palabra de advertencia tiene indicaciones de peligro. Cópielas de la sección 2 de la ficha.
mixing-use = O usar una ya archivada
mixing-use-sheet = Ficha
mixing-use-keep = Usar esta ficha
done-sheet-filed = La ficha de datos está archivada.
mixing-tonight = Lote para esta noche
mixing-tonight-lead = Planchas cuyo paso siguiente es una acidulación y puede empezar ahora, { $time }.
mixing-tonight-none = Ninguna plancha está lista ahora para acidular.
mixing-tonight-plates = Listas para acidular
mixing-tonight-plate = Plancha
mixing-tonight-who = Quién
mixing-tonight-step = Paso
mixing-tonight-drawing = Dibujo
mixing-tonight-recipe = Receta
mixing-tonight-choose = Receta; vacío la deja fuera
mixing-tonight-row = Receta de la plancha { $number }
mixing-tonight-gum = Goma
mixing-tonight-acid = Ácido para planchas
mixing-tonight-nitric = Ácido para piedras
mixing-tonight-each = Goma por plancha
mixing-tonight-unit = Medido en
mixing-tonight-margin = Margen en por ciento
mixing-tonight-margin-hint = Por lo que queda en el vaso.
mixing-tonight-gum_left = Queda en el frasco de goma, mL
mixing-tonight-acid_left = Queda en el frasco de ácido, mL
mixing-tonight-nitric_left = Queda en el frasco para piedras, mL
mixing-tonight-no-row = La tabla de la clase no tiene filas que elegir. Pida al docente que guarde una.
mixing-tonight-batches = Por mezclar
mixing-tonight-count = Planchas
mixing-tonight-of-gum = Goma
mixing-tonight-of-acid = Gotas
mixing-tonight-by-pipette = { FIGURE($ml) } mL (de { FIGURE($low) } a { FIGURE($high) })
mixing-tonight-all = En total
mixing-tonight-lasts = Para cuánto alcanzan los frascos
mixing-tonight-gum-lasts = { $mark }: después de esta noche quedan { FIGURE($left) } mL de goma, suficiente para { $plates } planchas más de { FIGURE($each) }.
mixing-tonight-gum-short = { $mark } contiene { FIGURE($left) } mL de goma, y hacen falta { FIGURE($wanted) } mL: abra otro.
mixing-tonight-acid-lasts = { $mark }: después de esta noche quedan unos { FIGURE($left) } mL de ácido, suficiente para { $plates } planchas más de { FIGURE($drops) } gotas (de { FIGURE($low) } a { FIGURE($high) } según el cuentagotas).
mixing-tonight-acid-short = { $mark } contiene { FIGURE($left) } mL de ácido, y hacen falta hasta { FIGURE($wanted) } mL: abra otro.
mixing-tonight-not-told = Indique cuánto queda en los frascos para ver para cuánto alcanzan.
mixing-tonight-none-chosen = Todavía ninguna plancha tiene receta. Elija una, o deje fuera las planchas.
mixing-label = Etiqueta
mixing-label-of = Etiqueta para { $mark }
mixing-label-for-mix = Etiqueta para una mezcla
mixing-label-kind = Qué etiqueta
mixing-label-kind-stock = de lo que contiene
mixing-label-kind-waste = de residuos, con las palabras del campus
mixing-label-by = Preparado o abierto por
mixing-label-paper = Papel
mixing-label-paper-letter = Carta, 215,9 × 279,4 mm
mixing-label-paper-a4 = A4, 210 × 297 mm
mixing-label-columns = Etiquetas a lo ancho
mixing-label-rows = Etiquetas a lo alto
mixing-label-width = Anchura de una etiqueta, mm
mixing-label-height = Altura de una etiqueta, mm
mixing-label-left = Desde el borde izquierdo, mm
mixing-label-top = Desde el borde superior, mm
mixing-label-across = Separación horizontal, mm
mixing-label-down = Separación vertical, mm
mixing-label-start = Empezar por la etiqueta número
mixing-label-start-hint = Contadas desde arriba a la izquierda, fila por fila, en una hoja ya empezada.
mixing-label-copies = Cuántas
mixing-label-lay = Componer la hoja
mixing-label-print = Imprima esta página desde el navegador al 100 %, sin márgenes propios. Solo salen las etiquetas.
mixing-label-sheet = La hoja
mixing-label-place = Etiquetas { $first } a { $last } de { $all } de la hoja.
mixing-label-too-wide = { $columns } etiquetas a lo ancho necesitan { FIGURE($need) } mm con su margen y sus separaciones, y el papel tiene { FIGURE($has) }. Cambie algo de ello.
mixing-label-too-high = { $rows } etiquetas a lo alto necesitan { FIGURE($need) } mm con su margen y sus separaciones, y el papel tiene { FIGURE($has) }. Cambie algo de ello.
mixing-label-no-room = Desde la etiqueta { $start } caben { $room }. Pida menos, o empiece antes.
mixing-label-start-beyond = La hoja tiene { $all } etiquetas. Empiece por una de ellas.
mixing-label-unclear = Peligros aún sin anotar: pregunte al personal antes de usarlo
mixing-label-incomplete = No hay ficha de datos archivada, así que aquí no se conocen los peligros. Una etiqueta del lugar de trabajo lleva el producto y palabras, imágenes o símbolos que indiquen sus peligros (29 CFR 1910.1200(f)(6)(ii)); archive antes la ficha.
mixing-label-acid-incomplete = No hay ficha de datos archivada para el ácido, así que aquí no se conocen los peligros. Pregunte al personal antes de etiquetar con esto.
mixing-label-no-hazard = Sin peligros según su ficha de datos
mixing-label-mend = Corregirlo
mixing-label-made = Preparado { $day }
mixing-label-opened = Abierto { $day }
mixing-label-by-whom = por { $who }
mixing-label-discard = Desechar después de { $day }
mixing-label-discard-by = Desechar antes de
mixing-label-no-discard = Sin último día indicado
mixing-label-etch = Mezcla para acidular: goma arábiga con ácido { $kind ->
    [nitric] nítrico
   *[other] fosfórico
}
mixing-label-gum = Solución de goma arábiga
mixing-label-stock-cut = Solución madre en goma arábiga
mixing-label-strength = Ácido al { FIGURE($percent) } % en peso, { FIGURE($mol) } mol/L
mixing-label-mol = { FIGURE($mol) } mol/L de ácido
mixing-label-from = de { $marks }
mixing-label-bottle-hazards = Del ácido con que está hecha:
mixing-label-waste-words = Todavía no se han indicado las palabras propias del campus para los residuos. El personal las escribe en lo que se dice de la sala.
mixing-label-waste-room = Cambiar lo que se dice de la sala
mixing-label-began = Empezado { $day }

## ---- proofs: photos and comments ----
proofs-picture-empty = La foto está vacía (0 bytes). Elíjala otra vez; si sigue vacía, tome una nueva.
proofs-picture-too-heavy = La foto tiene { FIGURE($megabytes) } MB; se admiten 25 MB como máximo. Envíela en un tamaño menor o como JPEG de menor calidad.
proofs-picture-none = El archivo no es una imagen. Envíe la foto como JPEG, PNG o WebP.
proofs-picture-other-kind = El archivo es de un tipo que aquí no se admite ({ $kind }). Envíe la foto como JPEG, PNG o WebP.
proofs-picture-heic = La foto es un archivo HEIC, que muchos navegadores no pueden mostrar. Ponga la cámara del teléfono en fotos JPEG (a menudo llamado «más compatible») y tómela otra vez, o ábrala en el teléfono, expórtela como JPEG y envíe eso.
proofs-picture-too-large = La foto tiene { $width } x { $height } píxeles ({ FIGURE($megapixels) } megapíxeles); se admiten 50 megapíxeles y 65535 píxeles por lado como máximo. Envíela en un tamaño menor.
proofs-picture-cmyk = La foto está en colores de imprenta (CMYK). Guárdela en colores RGB y envíela otra vez.
proofs-picture-cut-short = El archivo de la foto acaba antes de tiempo: una parte se perdió por el camino. Envíelo otra vez.
proofs-picture-damaged = La foto no se puede leer: el archivo está dañado. Tome o exporte la foto de nuevo y envíela otra vez.
proofs-proofs = Pruebas
proofs-name = Prueba { $number }
proofs-alt = { $proof }: { $kind } de «{ $title }», plancha { $number }, sacada { $pulled }
proofs-kind-drawing = el dibujo en la plancha
proofs-kind-trial = prueba de ensayo
proofs-kind-state = prueba de estado
proofs-kind-bat = B.A.T.
proofs-kind-edition = hoja de la tirada
proofs-kind-cancellation = prueba de cancelación
proofs-add = Añadir una prueba
proofs-all = { $count ->
    [one] La prueba con lo que se dice de ella
   *[other] Todas las pruebas con lo que se dice de ellas ({ $count })
}
proofs-list = Todas las pruebas
proofs-none = Todavía no se ha añadido ninguna prueba.
proofs-none-add = Todavía no se ha añadido ninguna prueba. Añada la primera foto: el dibujo en la plancha, o la primera estampación.
proofs-back-to-plate = A la plancha
proofs-side-by-side = Dos pruebas una al lado de la otra
proofs-compare = Mostrar estas dos
proofs-compare-left = Izquierda
proofs-compare-right = Derecha
proofs-not-two = Se pueden poner dos pruebas una al lado de la otra cuando se hayan añadido dos.
proofs-pulled-at = sacada { $at }
proofs-added-by = añadida por { $who }
proofs-full-size = Tamaño completo
proofs-remove = Quitar { $proof }
proofs-remove-lead = Ya no la ve nadie, y su imagen se tira al cabo de una semana. Se puede añadir otra vez mientras usted tenga la foto.
proofs-too-late-to-remove = Quien añadió una prueba puede retirarla en un plazo de diez minutos. Pida a su docente que la quite.
proofs-comments = Comentarios
proofs-comment-words = Comentario
proofs-comment-add = Añadir el comentario
proofs-comment-on-plate = Comentar la plancha: lo leen su estudiante y el personal de la clase
proofs-comment-on-proof = Comentar esta prueba: lo leen su estudiante y el docente
proofs-comment-remove = Quitar este comentario
proofs-comment-too-late-to-remove = Quien escribió un comentario puede retirarlo en un plazo de diez minutos. Pida a su docente que lo quite.
proofs-new = Añadir una prueba
proofs-new-lead = Una foto de una prueba. El lugar y la hora que el teléfono escribió en el archivo se tiran; la imagen la ven el estudiante de la plancha y el personal de la clase, y nadie más.
proofs-new-camera = Tomar la foto ahora
proofs-new-file = O elegir una que ya está
proofs-new-file-hint = JPEG, PNG o WebP, hasta 25 MB y 50 megapíxeles.
proofs-new-kind = Qué muestra
proofs-new-pulled = Sacada el
proofs-new-note = Nota
proofs-new-note-hint = Papel, tinta, en qué fijarse.
proofs-new-button = Añadir la prueba
proofs-photo-missing = Todavía no hay foto. Tome una, o elija una que ya esté.
proofs-pulled-ahead = Eso no ha llegado todavía. Diga cuándo se sacó.
proofs-same-picture = Esta imagen ya está guardada para esta plancha. Elija otra.
proofs-same-link = La prueba que ya muestra esta imagen
done-proof-added = La prueba está añadida.
done-proof-removed = La prueba está quitada.
done-comment-added = El comentario está añadido.
done-comment-removed = El comentario está quitado.
proofs-picture-busy = En este momento se están procesando demasiadas fotos, así que esta no se guardó. Envíela otra vez dentro de un minuto.

## ---- grades ----
grades-scale-line = «{ $line }», en la escala de letras, no es una letra y el porcentaje en que empieza. Escriba una letra por línea, como «A 93».
grades-rules-stale = Alguien guardó las reglas o las categorías mientras tanto, así que no se guardó nada. Lo que vale ahora está abajo; lo que usted escribió se conserva. Guarde otra vez para poner lo suyo en su lugar.
grades-weights-under = Los pesos suman { FIGURE($sum) } %, { FIGURE($by) } % menos que 100 %. Cámbielos para que hagan exactamente 100 %.
grades-weights-over = Los pesos suman { FIGURE($sum) } %, { FIGURE($by) } % más que 100 %. Cámbielos para que hagan exactamente 100 %.
grades-category-in-use = «{ $title }» no se puede quitar: le { $count ->
    [one] pertenece 1 evaluación
   *[other] pertenecen { $count } evaluaciones
}. Mueva o quite antes lo que le pertenece.
grades-category-twice = Dos categorías se llaman «{ $title }». Dé a cada una su propio título.
grades-category-drops-all = { $title }: se pueden descartar hasta { $drop } y { $count ->
    [one] hay una evaluación en ella
   *[other] hay { $count } evaluaciones en ella
}. Al menos una cuenta siempre; baje el número si deben contar más.
grades-category-untitled = Una categoría con un peso o con un número que descartar necesita un título. Escríbalo, o vacíe la fila.
grades-categories-none = No queda ninguna categoría. Dé al menos a una un título y un peso.
grades-not-of-class = Esto no es de esta clase. Elija de la lista.
grades-points-nothing = Una evaluación de 0 puntos no cuenta nada. Dele puntos, o márquela como puntos extra.
grades-points-below-score = En esto se dio una puntuación de { FIGURE($score) } puntos. Deje los puntos al menos en esa cifra, o márquelo como puntos extra.
grades-assessment-marked = «{ $title }» tiene notas, que nunca se tiran. Ponga a los estudiantes como exentos, para que no les cuente.
grades-reason-needed = { $count ->
    [one] Se cambia 1 nota que ya estaba guardada.
   *[other] Se cambian { $count } notas que ya estaban guardadas.
} Diga por qué.
grades-nothing-to-hand-back = Aquí no hay nada pendiente de devolver: califique antes a alguien.
grades-mark-stale-graded = Alguien calificó a este estudiante mientras tanto: calificado, { FIGURE($points) } puntos, comentario «{ $words }». Lo suyo se conserva en los campos; guarde otra vez para ponerlo en su lugar.
grades-mark-stale-excused = Alguien calificó a este estudiante mientras tanto: exento, comentario «{ $words }». Lo suyo se conserva en los campos; guarde otra vez para ponerlo en su lugar.
grades-mark-stale-missing = Alguien calificó a este estudiante mientras tanto: no entregado, comentario «{ $words }». Lo suyo se conserva en los campos; guarde otra vez para ponerlo en su lugar.
grades-mark-stale-pending = Alguien calificó a este estudiante mientras tanto: aún sin calificar, comentario «{ $words }». Lo suyo se conserva en los campos; guarde otra vez para ponerlo en su lugar.
grades-points-missing = Lo calificado necesita puntos. Escríbalos, o elija otro estado.
grades-points-negative = «{ $value }» puntos son menos que ninguno. Escriba 0 o más.
grades-points-above = «{ $value }» supera los { FIGURE($most) } puntos de esta evaluación. Escriba { FIGURE($most) } como máximo, o marque la evaluación como puntos extra.
grades-points-not-graded = Hay { FIGURE($value) } puntos junto a un estado que no los tiene. Elija calificado, o vacíe los puntos.
grades-status-graded = calificado
grades-status-excused = exento
grades-status-missing = no entregado
grades-status-pending = aún sin calificar
grades-of = { FIGURE($score) } de { FIGURE($points) }
grades-of-percent = { FIGURE($percent) } %
grades-days-late = { $days ->
    [one] 1 día de retraso
   *[other] { $days } días de retraso
}
grades-due = entrega { $due }
grades-due-own = fecha propia { $due }
grades-handed-in = entregado { $at }
grades-not-handed-in = sin entregar hasta ahora
grades-no-project = sin proyecto
grades-extra-credit = puntos extra
grades-rules = Categorías y reglas
grades-new-assessment = Nueva evaluación
grades-nothing-set-up = Todavía no hay categorías. Prepárelas en «Categorías y reglas»: sus pesos hacen juntos 100 %.
grades-no-assessments = Todavía no se evalúa nada.
grades-no-students = Todavía no hay estudiantes en la clase. Antes viene la lista de clase, en «Personas».
grades-ledger = Libro de notas
grades-ledger-about = La calificación hasta ahora se calcula con todas las notas puestas. Una nota entre paréntesis aún no está devuelta; su estudiante no la ve.
grades-student = Estudiante
grades-so-far = Calificación hasta ahora
grades-in-hand = { $mark }, sin devolver
grades-from-weight = del { FIGURE($weight) } % del peso
grades-assessments = Evaluaciones
grades-assessment = Evaluación
grades-category = Categoría
grades-weight-of = { $title }, { FIGURE($weight) } %
grades-points = Puntos
grades-marked = Calificado
grades-marked-of = { $marked } de { $all }
grades-waiting = Sin devolver
grades-edit = Cambiar
grades-facts = Cambiar «{ $title }»
grades-facts-category = Categoría
grades-facts-project = Proyecto
grades-facts-project-hint = El retraso se cuenta desde la fecha de entrega del proyecto, o la propia del estudiante.
grades-facts-title = Título
grades-facts-points = Puntos
grades-facts-points-hint = Con hasta dos decimales.
grades-facts-extra_credit = Puntos extra: se suman, no se exigen
grades-keep = Guardar
grades-remove = Quitar esta evaluación
grades-remove-about = No se calificó a nadie en ella, así que puede quitarse.
grades-categories = Categorías
grades-categories-about = Los pesos hacen juntos 100 %. Vacíe una fila para quitar su categoría. Descartar las más bajas deja fuera las puntuaciones sin las que el resultado del estudiante es el mejor, y siempre deja una.
grades-categories-title = Título
grades-categories-weight = Peso en por ciento
grades-categories-drop = Descartar las más bajas
grades-category-row = Categoría { $number }
grades-category-row-title = Título de la categoría { $number }
grades-category-row-weight = Peso de la categoría { $number }
grades-category-row-drop = Las más bajas que se descartan en la categoría { $number }
grades-keep-categories = Guardar las categorías
grades-scheme = Reglas
grades-scheme-late = Por ciento que se descuenta por cada día de retraso
grades-scheme-late-hint = 0: un día de retraso no cuesta nada.
grades-scheme-late_of = De
grades-scheme-max_days = Días de retraso como máximo
grades-scheme-max_days-hint = Un trabajo posterior puntúa 0. Vacío: sin ese límite.
grades-scheme-grace = Minutos de margen después del plazo
grades-scheme-missing = Lo no entregado cuenta como 0
grades-scheme-places = Decimales de la calificación
grades-scheme-ties = Una calificación en el medio
grades-scheme-scale = Letras
grades-scheme-scale-hint = Una por línea con el porcentaje en que empieza, de la más alta hasta 0, como «A 93». Vacío: sin letras.
grades-of-possible = los puntos que podía dar
grades-of-earned = los puntos que dio
grades-ties-half-up = sube: 89,5 pasa a 90
grades-ties-half-even = va a la cifra par: 88,5 pasa a 88
grades-ties-truncate = se corta: 89,9 pasa a 89
grades-keep-rules = Guardar las reglas
grades-usual = Estas son las reglas habituales; para esta clase no se ha guardado nada todavía.
grades-stands-now = Lo que vale ahora
grades-stands-category = { $title }: { FIGURE($weight) } %, { $drop } descartadas
grades-stands-rules = { FIGURE($late) } % al día de { $of }, como máximo { FIGURE($most) } días, { FIGURE($grace) } minutos de margen, { $places } decimales
grades-no-limit = cualquier número de
grades-marking-about = { $category }, { FIGURE($points) } puntos. Los puntos escritos junto a «aún sin calificar» cuentan como calificado. Nada se muestra a los estudiantes antes de que usted lo devuelva.
grades-mark-status = Estado
grades-mark-points = Puntos
grades-mark-words = Comentario
grades-mark-reason = Motivo, donde se cambia una nota guardada
grades-mark-reason-hint = Los estudiantes lo leen junto a una nota corregida una vez devuelta.
grades-mark-row = { $what } de { $name }
grades-handed-back = devuelta { $at }
grades-not-handed-back = sin devolver
grades-earlier = Notas anteriores
grades-earlier-line = { $mark }, { $at }, por { $by }
grades-earlier-reason = Cambiada porque: { $reason }
grades-keep-marks = Guardar las notas
grades-to-hand-back = Devolver
grades-hand-back = Devolver
grades-hand-back-of = Devolver «{ $title }»
grades-hand-back-about = { $count ->
    [one] 1 estudiante recibe una carta y ve su nota y su comentario
   *[other] { $count } estudiantes reciben una carta y ven su nota y su comentario
} desde ahora. No se puede retirar; un cambio posterior es una corrección con un motivo.
grades-hand-back-waits = Todavía sin calificar: { $count }. Devuélvalas más tarde de la misma manera.
grades-hand-back-button = Devolver a { $count ->
    [one] 1 estudiante
   *[other] { $count } estudiantes
}
grades-back-to-marking = Volver a calificar
grades-own-about = Calculada con lo que se le ha devuelto, y con nada más.
grades-of-person-about = Calculada con todas las notas puestas, devueltas o no.
grades-own-nothing = Todavía no se le ha devuelto nada, así que no hay calificación.
grades-own-percent = Por ciento
grades-own-letter = Letra
grades-own-points-of-four = { FIGURE($points) } puntos en la escala habitual de cuatro; cada centro tiene la suya
grades-own-low = La más baja posible
grades-own-high = La más alta posible
grades-own-possible = La más baja y la más alta posibles: con todo lo que aún no está calificado a 0, y al máximo que aún puede dar.
grades-own-working = Cómo se calculó
grades-own-standing = Estado
grades-own-score = Puntuación
grades-own-comment = Comentario
grades-own-before = Antes era { $mark }. Cambiada porque: { $reason }
grades-cannot = La calificación no se puede calcular: { $why }
grades-ask-instructor = Pregunte al docente; sus notas se conservan.
done-categories = Las categorías están guardadas.
done-rules = Las reglas están guardadas.
done-assessment = La evaluación está guardada.
done-assessment-removed = La evaluación ya no está.
done-marks = Las notas están guardadas. Los estudiantes las ven cuando usted las devuelva.
done-handed-back = Devuelto; las cartas van de camino.

## ---- grades: criteria, marking, second looks, critiques ----
criteria-title = Criterios
criteria-about = En qué se fija quien mira las estampas. Escriba los niveles con sus propias palabras; las notas conservan las palabras con que se dieron, así que puede reescribirlos en cualquier momento.
criteria-none = Todavía no hay criterios. Empiece con los habituales, o escriba el primero.
criteria-new = Nuevo criterio
criteria-begin = Empezar a partir de
criteria-usual = Tomar los criterios propuestos
criteria-usual-about = Cinco criterios con cuatro niveles cada uno, como comienzo que reescribir: práctica común, sin fuente publicada. Lo que ya tiene aquí el mismo título se queda como está.
criteria-copy = Copiar los criterios
criteria-copy-from = Una clase suya anterior
criteria-facts-title = Título
criteria-facts-about = En qué se fija
criteria-levels-about = Primero el mejor nivel, que vale el 100 % de los puntos; cada uno de los siguientes vale menos. Deje vacías las filas que no necesite.
criteria-level-number = Nivel { $number }
criteria-level = Nivel
criteria-share = Por ciento de los puntos
criteria-words = Lo que se ve
criteria-comment = Comentario sobre esto
criteria-remove = Quitar este criterio
criteria-remove-about = Puede quitarse un criterio que ninguna evaluación usa; las notas dadas con él conservan sus palabras.
criteria-work = Trabajo
criteria-by = por criterios
criteria-sheet-about = Esto se califica por criterios, una estampa tras otra. Nada se muestra a los estudiantes antes de que usted lo devuelva.
criteria-two-levels = Un criterio necesita al menos dos niveles. Rellene otra fila.
criteria-level-untitled = Un nivel necesita un título. Escriba uno, o vacíe su fila.
criteria-share-missing = Este nivel no tiene porcentaje. Escriba cuánto vale de los puntos, o vacíe su fila.
criteria-first-level-whole = El primer nivel vale el { FIGURE($share) } % de los puntos. El mejor nivel vale el 100 %: escriba 100.
criteria-levels-fall = { FIGURE($share) } % no es menor que el { FIGURE($above) } % del nivel anterior. Ordene los niveles de modo que cada uno valga menos que el anterior.
criteria-points-uneven = «{ $level }» de { $criterion } vale el { FIGURE($share) } % de { FIGURE($points) } puntos, que no es un número entero de centésimas. Elija unos puntos, o un porcentaje, que salgan exactos, para que no se redondee nada.
criteria-weight-uneven = El { FIGURE($weight) } % de { FIGURE($points) } puntos no es un número entero de centésimas. Elija un peso que salga exacto.
criteria-points-sum = Los criterios suman { FIGURE($sum) } puntos; la evaluación tiene { FIGURE($points) }. Cámbielos para que ambos sean iguales, o vacíelos todos para calificar solo en puntos.
criteria-points-fixed = Los criterios de esta evaluación suman { FIGURE($sum) } puntos. Cambie antes lo que valen, o vacíelos.
criteria-twice = Otro criterio se llama ya «{ $title }». Dé otro título a este.
criteria-full = Una clase puede tener { $most } criterios como máximo. Quite antes uno.
criteria-in-use = «{ $title }» se usa en { $count ->
    [one] 1 evaluación
   *[other] { $count } evaluaciones
}. Vacíe antes allí sus puntos.
criteria-one-by-one = «{ $title }» se califica por criterios. Abra la estampa que quiere calificar.
criteria-choose-level = Aquí no se ha elegido ningún nivel. Elija uno, o dé abajo puntos propios con un motivo.
criteria-levels-not-graded = Hay niveles elegidos junto a un estado que no los tiene. Elija calificado, o ponga los niveles en «sin juzgar».
criteria-own-reason = { FIGURE($points) } puntos no son los { FIGURE($sum) } que hacen los niveles. Diga por qué, o vacíe sus puntos propios.
criteria-own-reason-open = Hay puntos propios y no se han elegido todos los niveles. Diga por qué, o elija los niveles.
criteria-level-choice = { $number }. { $title }, { FIGURE($points) } puntos: { $words }
criteria-level-none = Sin juzgar
criteria-of-points = { FIGURE($points) } puntos
criteria-judged-line = { $title }: { $level } { FIGURE($points) } { $words }
grades-weighed-title = Criterios de «{ $title }»
grades-weighed-about = Juntos hacen los { FIGURE($points) } puntos de esta evaluación. Déjelos todos vacíos para calificar solo en puntos.
grades-weighed-typed = Los números de abajo son
grades-weighed-typed-points = puntos
grades-weighed-typed-weights = por ciento del total
grades-weighed-number = Vale
grades-print-about = { $title }, { FIGURE($points) } puntos. Nada se muestra al estudiante antes de que usted lo devuelva.
grades-print-before = Anterior: { $name }
grades-print-next = Siguiente: { $name }
grades-print-none = No se ha empezado ninguna estampa para esto
grades-print-plate = Plancha { $number }
grades-print-open-plate = Abrir la plancha
grades-print-whole = La estampa en conjunto
grades-print-words = Comentario sobre el conjunto
grades-print-status = Estado
grades-print-own_points = Puntos propios
grades-print-own_points-hint = Vacío: lo que suman los niveles.
grades-print-own_reason = Por qué otros puntos que los de los niveles
grades-print-own_reason-hint = Los estudiantes lo leen junto a la nota.
grades-print-reason = Motivo, donde se cambia una nota guardada
grades-print-reason-hint = La nota anterior se conserva. Los estudiantes leen el motivo una vez devuelta la nueva.
grades-print-keep = Guardar la nota
grades-print-keep-next = Guardarla y pasar a la siguiente estampa
grades-print-keys = Con el teclado: una cifra elige ese nivel y pasa al siguiente criterio, las flechas mueven entre niveles, el tabulador avanza, Control e Intro guardan la nota.
grades-print-stands = { $mark }, de { $by }, { $state }
grades-print-theirs = Otra persona calificó esta estampa mientras tanto. Sus niveles:
grades-hand-back-all = Devolver todo lo pendiente
grades-all-wait = { $count ->
    [one] 1 nota está pendiente
   *[other] { $count } notas están pendientes
} de devolver.
grades-own-by = Calificado por { $name }
grades-own-points = Los puntos son los propios del docente, no la suma de los niveles: { $reason }
grades-late-counted = { $days ->
    [one] Se cuenta 1 día de retraso
   *[other] Se cuentan { $days } días de retraso
}: { $on }. Un día empieza cada vez que han pasado la hora de entrega ({ $due }) y { $grace } minutos de margen.
grades-late-none = No se cuenta ningún día de retraso. Un día empieza cada vez que han pasado la hora de entrega ({ $due }) y { $grace } minutos de margen.
grades-late-uncounted = { $days ->
    [one] 1 día más empezó en una fecha que no se cuenta
   *[other] { $days } días más empezaron en fechas que no se cuentan
}.
grades-ahead = Calcular por adelantado
grades-ahead-about = Suponga puntuaciones para lo que aún no está calificado y vea cuál sería su calificación. No se guarda nada, y nadie más lo ve. Los días de retraso y lo que se descartará siguen las reglas tal como están ahora.
grades-ahead-points = Puntos supuestos
grades-ahead-of = de { FIGURE($points) } puntos
grades-ahead-above = «{ $value }» supera los { FIGURE($most) } puntos de esta evaluación. Suponga { FIGURE($most) } como máximo.
grades-ahead-button = Calcular
grades-ahead-would = Con estas puntuaciones sería
grades-ahead-then = Entonces
grades-ahead-nothing = Todo está calificado; no hay nada que suponer.
second-looks-title = Segundas revisiones
second-looks-wait = { $count ->
    [one] 1 estudiante pide
   *[other] { $count } estudiantes piden
} una segunda revisión.
second-looks-see = Verlas
second-looks-none = Nadie ha pedido una segunda revisión. Un estudiante la pide desde la página de una puntuación ya entregada.
second-look-at = Una segunda revisión de «{ $title }»
second-look-ask = Pedir una segunda revisión
second-look-about = Puede pedirla una vez por cada nota. Diga qué cree que se pasó por alto o se contó mal; su docente responde con un motivo, o con una nota nueva, que puede ser más alta o más baja.
second-look-reason = Por qué debe revisarse
second-look-answer = Respuesta
second-look-why = Diga por qué debe revisarse, en una o dos frases.
second-look-say-why = Diga por qué se mantiene la nota, en una o dos frases.
second-look-once = Ya ha pedido una segunda revisión de esta nota. Se puede pedir una por cada nota.
second-look-of-answer = Esta nota es ya la respuesta a una segunda revisión. Hable con su docente.
second-look-answered = Esta segunda revisión ya está respondida.
second-look-wanted = Se pide una segunda revisión
second-look-asked-at = Pedida { $at }
second-look-how = Diga por qué se mantiene la nota; o cambie abajo la nota con su motivo, lo que también responde una vez devuelta.
second-look-stays-button = La nota se mantiene
second-look-asked-because = Segunda revisión pedida { $at }: { $reason }
second-look-waits = Espera al docente.
second-look-waits-short = le espera a usted
second-look-stays = Revisada { $at }; la nota se mantiene: { $answer }
second-look-changed = Revisada { $at }; se dio esta nota: { $answer }
second-look-unchanged = La nota se mantiene
second-look-new-mark = Una nota nueva
critiques-title = Notas de crítica
critique-of = Crítica de «{ $title }»
critique-begin = Empezar una crítica
critique-begin-about = Cuelgan todas las estampas del proyecto, al principio por nombre; cambie el orden según cuelgan.
critique-begin-project = Proyecto
critique-begin-held_on = Día de la crítica
critique-project = Proyecto
critique-day = Día
critique-state = Notas
critique-back = devueltas
critique-no-projects = La clase no tiene proyectos todavía. Añada el primero en los ajustes de la clase.
critique-nothing-hangs = No se ha empezado ninguna estampa de este proyecto, así que no cuelga nada. Elija otro proyecto.
critique-about = Una línea por estampa, en el orden en que cuelgan. Antes de devolverlas no las lee nadie más que los docentes.
critique-line = Lo dicho de esta estampa
critique-earlier = Cuelga antes
critique-later = Cuelga después
critique-keep = Guardar las líneas
critique-hand-back = Devolver las líneas
critique-hand-back-about = Cada estudiante cuya estampa tiene una línea recibe una carta y lee esa línea. Después las líneas se quedan como están. Guarde antes lo que haya escrito.
critique-handed-back = Las líneas de esta crítica están devueltas y se quedan como están.
critique-no-lines = Todavía no hay ninguna línea escrita. Escriba una y guárdela antes.
uncounted-title = Días que no se cuentan
uncounted-about = En estos días no se cuenta retraso. Uno por línea: la fecha y luego el porqué, como «2026-11-26 Acción de Gracias».
uncounted-days = Días
uncounted-line = «{ $line }» no empieza por una fecha. Escríbalo como 2026-11-26, uno por línea.
uncounted-twice = { $day } figura dos veces. Deje uno.
uncounted-many = Hay más de { $most } días en la lista. Deje fuera los posteriores al periodo.
late-add-title = Propuestos como exentos
late-add-about = Trabajos cuya entrega era anterior a que su estudiante entrara en la clase. No cuentan nada una vez exentos.
late-add-line = { $name }: la entrega de «{ $title }» era { $due }; en la clase desde { $since }
late-add-excuse = Eximirlo
late-add-words = La entrega era anterior a su entrada en la clase.
late-add-gone = Esto ya no se propone: se calificó mientras tanto, o se ha movido una fecha.
done-criterion = El criterio está guardado.
done-criterion-removed = El criterio ya no está.
done-criteria-brought = Los criterios están ya aquí. Reescríbalos como quiera.
done-weighed = Los criterios de esta evaluación están guardados.
done-mark = La nota está guardada. El estudiante la ve cuando usted la devuelva.
done-second-look-asked = Pedida. Su docente recibe una carta; la respuesta figurará aquí.
done-second-look-answered = Respondida; la carta va de camino.
done-critique = Las líneas están guardadas.
done-late-add = Exento.

## ---- tonight: who waits, the run sheet, what to put out ----
asking-title = Su lugar en la fila
asking-lead = Pida que venga alguien del personal y vea cuántos hay antes.
asking-head = Pedir que venga alguien
asking-place = Dónde está usted, por ejemplo «mesa 3»
asking-plate = Sobre qué plancha
asking-no-plate = ninguna plancha en particular
asking-what-for = Para qué
asking-kind-help = Ayuda
asking-kind-mix = Acordar una mezcla
asking-kind-sign-off = Una habilitación
asking-kind-go-ahead = Un visto bueno
asking-with-plate = { $kind }, plancha { $number }
asking-place-in-line =
    { $place ->
        [1] usted es quien sigue.
        [2] tiene usted el segundo lugar de la fila.
        [3] tiene usted el tercer lugar de la fila.
       *[other] tiene usted el lugar { $place } de la fila.
    }
asking-since = pedido a las { $since }
asking-take-back = Retirarlo
asking-none-open = No está usted en la fila.
done-asked = Pedido. Su lugar en la fila está abajo.
done-asking-taken-back = Retirado.
done-asking-answered = Hecho. Se puede deshacer durante diez minutos.
done-asking-undone = Deshecho; vale otra vez el lugar de antes en la fila.
done-run-ordered = Movido. El orden se guarda para hoy.
done-run-moved-on = La hoja ha cambiado entretanto; mire otra vez.
tonight-title = Esta noche
tonight-lead = { $date }, reunión { $meeting }
tonight-lead-no-meeting = { $date }, hoy ya no hay reunión
tonight-plan = Plan de la clase
tonight-count =
    { $count ->
        [0] Nadie le espera.
        [1] Una persona le espera.
       *[other] { $count } personas le esperan.
    }
tonight-waiting = Le esperan
tonight-go = Ir a Esta noche
tonight-nobody-waits = Nadie espera. Se pide desde Hoy o desde la página de una plancha; quien pide aparece aquí enseguida.
tonight-minutes = { $minutes } min
tonight-since = desde { $since }
tonight-done = Hecho
tonight-undo = Deshacer
tonight-answered = Hecho hace un momento
tonight-undo-too-late = Esto se hizo hace más de diez minutos, u otro día. Quien todavía espera puede pedirlo otra vez.
tonight-undo-asked-again = Entretanto han pedido lo mismo otra vez; eso es lo que está en la fila.
tonight-to-mix = La mezcla
tonight-to-sign-offs = Habilitaciones
tonight-to-go-ahead = La plancha, para el visto bueno
tonight-to-plate = La plancha
tonight-to-plates = Planchas
tonight-run-sheet = Hoja de marcha
tonight-estimate = Como estaban las cosas a las { $time }: lo que puede empezar antes de las { $until }. Los turnos se estiman con los minutos de los procedimientos: primero quien llegaría tarde, y luego la menor espera posible.
tonight-no-plates = Nadie ha empezado todavía una plancha. Cuando se empiecen estampas, aquí estará lo que ya puede ir a un puesto.
tonight-nothing-ready = Nada está listo esta noche. Las planchas en reposo vuelven aquí cuando su reposo termina.
tonight-units =
    { $units ->
        [1] 1 sitio
       *[other] { $units } sitios
    }
tonight-down-now = fuera de servicio
tonight-spot-instructor = Docente
tonight-spot-anywhere = Cualquier mesa
tonight-running = En curso: { $step }, plancha { $number }, { $who }, desde las { $since }; por sus minutos, hasta las { $until }.
tonight-turn = Turno
tonight-no-turn = sin sitio esta noche
tonight-takes = { $minutes } min
tonight-who = Quién
tonight-order = Cambiar el orden
tonight-up = Subir
tonight-down = Bajar
tonight-held-up = Detenidas
tonight-put-out = Qué preparar
tonight-gum-and-acid = Goma y ácido
tonight-gum-in-all = Goma en total, de { $mark }
tonight-acid-in-all = Ácido en total
tonight-acid = { $mark }: { $drops } gotas, { $ml } mL ({ $low } a { $high })
tonight-no-gum = Ninguna goma del estante se puede usar. Ponga antes un frasco.
tonight-to-shelf = El estante
tonight-no-etch = Ninguna acidulación está lista esta noche.
tonight-without-row = Plancha { $number }: la tabla de la clase no tiene fila para su dibujo.
tonight-guessed-row = Plancha { $number }: ninguna fila de la tabla de la clase nombra su dibujo; la fila es una suposición por lo cargado que está.
tonight-usual-batch = Con los frascos de siempre, la tabla de la clase y un diez por ciento por lo que queda en el vaso.
tonight-other-batch = Elegir frascos y recetas
tonight-paper = Papel
tonight-sheets =
    { $sheets ->
        [1] 1 hoja para tiradas,
       *[other] { $sheets } hojas para tiradas,
    }
tonight-sheets-about = y lo que prevea para las que se estropeen.
tonight-edition =
    { $sheets ->
        [1] Plancha { $number }, { $who }: 1 hoja
       *[other] Plancha { $number }, { $who }: { $sheets } hojas
    }
tonight-proofs = Papel para pruebas, tantas hojas como se impriman:
tonight-proof = Plancha { $number }, { $who }
tonight-no-paper = Ninguna tirada ni prueba está lista esta noche.
tonight-call-roll = Asistencia de { $when }
tonight-no-meeting = La clase no se reúne hoy.
tonight-rolls = Toda la asistencia

## ---- rolls, duties, what is granted ----
rolls-title = Asistencia
rolls-none = Todavía no se ha celebrado ninguna reunión. Cuándo se reúne la clase se indica en sus ajustes.
roll-of = Asistencia de { $when }
roll-meeting = Reunión
roll-called = Asistencia
roll-not-called = sin pasar
roll-counts = presentes { $here }, con retraso { $late }, ausentes { $away }, con justificación { $excused }
roll-meetings = Reunión por reunión
roll-nobody = Todavía no se ha marcado a nadie, así que no se guarda nada. Elija para cada persona, o pulse antes «Todos los demás están presentes».
roll-all-here = Todos los demás están presentes
roll-keep = Guardar la asistencia
roll-meanwhile = Otra persona anotó esto mientras tanto: { $stands }. Lo suyo se conserva; guarde otra vez para ponerlo en su lugar.
roll-presence-here = Presente
roll-presence-late = Con retraso
roll-presence-away = Ausente
roll-presence-excused = Con justificación
done-roll = La asistencia está guardada.
duties-title = Tareas
duties-about = Quién se ocupa de qué, y qué día. Es prueba de participación y no una puntuación por sí misma.
duties-care = Guantes y gafas de protección para disolventes, ácido y sus trapos; los trapos van enseguida al cubo cerrado. La ficha de datos de seguridad, las normas locales y la oficina de seguridad van antes que todo lo que aquí se dice.
duties-none = No hay ninguna tarea puesta.
duties-none-staff = No hay ninguna tarea puesta. Ponga la primera abajo: qué, qué día, quién.
duty-duty = Tarea
duty-became = Qué fue de ella
duty-set = Poner una tarea
duty-what = Qué
duty-day = Día
duty-person = Para
duty-for-whom = No hay nadie marcado. Marque al menos a un estudiante.
duty-meanwhile = Otra persona contó esto mientras tanto. Mire lo que vale ahora.
duty-what-slabs = losas rascadas y limpias, rodillos guardados
duty-what-water = esponjas enjuagadas, cuencos vaciados y boca abajo
duty-what-press = carro, tímpano y rasqueta limpios, presión aflojada
duty-what-rags = trapos en su cubo cerrado, el cubo en su lugar
duty-what-sink = pila de granear enjuagada, abrasivos aparte por número
duty-what-paper = secantes colgados a secar, papel tapado
duty-outcome-set = aún sin contar
duty-outcome-done = hecha
duty-outcome-left = sin hacer
duty-outcome-excused = con justificación
duty-tell-done = Hecha
duty-tell-left = Sin hacer
duty-tell-excused = Con justificación
done-duty-set = La tarea está puesta.
done-duty-told = Guardado.
accommodations-title = Lo concedido
accommodations-about = Lo que se concede a estudiantes más allá de las reglas de la clase. Lo lee quien trabaja con ellos en el taller, y lo guarda para sí.
accommodations-own = Lo que se le concede a usted más allá de las reglas de la clase. Lo leen quienes le enseñan y le ayudan; por qué se concede, solo lo sabe su docente.
accommodations-none = No hay nada concedido.
accommodation-effect = Lo que se concede
accommodation-since = Desde
accommodation-reason = Por qué, solo para docentes
accommodation-say-why = Decirlo de otro modo
accommodation-reason-hint = No sale de esta página en ninguna tabla, carta ni registro. Vacío es lo mejor donde lo guarda la oficina propia de la escuela.
accommodation-grant = Conceder algo
accommodation-end = Terminarlo
accommodation-person = Estudiante
accommodation-percent = Más tiempo, en por ciento
accommodation-percent-hint = De los días desde la entrega anterior (o el primer día del periodo) hasta la del proyecto; los días empezados cuentan enteros.
accommodation-days = O en días
accommodation-words = Lo que tienen que saber quienes trabajan con el estudiante
accommodation-effect-more_time = Más tiempo
accommodation-effect-helper = Ayuda en la mesa
accommodation-effect-other_solvent = Otro disolvente
accommodation-effect-signals = Señales visibles
accommodation-percent-more = Más tiempo: { FIGURE($percent) } % de los días que tiene la clase
accommodation-days-more = Más tiempo: { $days ->
    [one] 1 día
   *[other] { $days } días
}
accommodation-how-much = Escriba cuánto tiempo más: por ciento o días, una de las dos cosas.
accommodation-say-what = Diga lo que tienen que saber quienes trabajan con el estudiante, por ejemplo qué disolvente se usa en su lugar.
done-granted = Concedido. Las fechas de entrega que se siguen de más tiempo están movidas, y el estudiante recibe una carta por cada una.
done-granted-why = El motivo queda guardado.
done-granted-ended = Terminado.
two-link = Dos calificadores
two-title = Dos calificadores: «{ $title }»
two-about = Una parte de los trabajos que esperan nota se saca a suertes y la califican dos docentes, cada uno a ciegas del otro hasta que ambos acaban. Entonces se muestra hasta dónde coinciden, y de qué hablar primero.
two-one-instructor = La clase tiene un solo docente. Una persona responsable de la escuela puede añadir otro.
two-draw = Sacar la parte
two-draw-share = Parte en por ciento
two-draw-share-hint = Los trabajos empezados cuentan enteros.
two-draw-seed = Número del que siguen las suertes
two-draw-seed-hint = El mismo número saca los mismos trabajos, así que cualquiera puede repetirlo.
two-draw-first = Primer calificador
two-draw-second = Segundo calificador
two-drawn = Los trabajos para dos calificadores ya están sacados.
two-drawn-about = { $count ->
    [one] 1 trabajo sacado
   *[other] { $count } trabajos sacados
} ({ FIGURE($share) } %, número { $seed }) para { $first } y { $second }.
two-instructors = Los dos calificadores son dos docentes distintos de esta clase. Elija otro.
two-nothing-waits = Aquí no hay trabajos que esperen nota: ya están calificados, o no se entregaron. No se puede sacar nada.
two-still-blind = Esto lo califican a ciegas dos personas. Puede calificarse cuando ambas hayan acabado.
two-done = Ambas han acabado, así que las notas a ciegas se quedan como están. Dé en la estampa la nota en que coincidan.
two-blind-about = Usted ve solo su nota; la otra persona, la suya. Los estudiantes no ven ninguna.
two-back = Dos calificadores
two-my-mark = Su nota
two-kept = guardada
two-wait = Los dos calificadores están trabajando. Aquello en que coincidan se muestra aquí cuando ambos acaben.
two-agreement = Hasta dónde coinciden
two-kappa = Kappa de Cohen sobre todos los niveles, con pesos cuadráticos: { FIGURE($value) }
two-alpha-levels = Alfa de Krippendorff sobre todos los niveles, como rangos: { FIGURE($value) }
two-alpha-points = Alfa de Krippendorff sobre los puntos, como escala de pasos iguales: { FIGURE($value) }
two-no-value = sin valor, porque nada varía
two-few = Solo se { $count ->
    [one] comparó 1 par
   *[other] compararon { $count } pares
}. Por debajo de 30 un número así dice poco: un trabajo más o menos lo mueve mucho. Hablen de los propios trabajos.
two-talk = De qué hablar, primero lo más distante
two-first = Primer calificador
two-second = Segundo calificador
two-apart = Distancia
done-two-drawn = Sacado.
done-blind = Su nota está guardada.
goals-title = Objetivos de aprendizaje
goals-about = Cuántos estudiantes han llegado hasta dónde en cada objetivo, según las notas devueltas hasta ahora. Los recuentos menores que { $least } se ocultan, y tantos otros que ninguno se deduzca del total.
goals-department = Para la revisión del departamento
goals-open = Hay calificaciones entregadas de { $submitted } de { $students } estudiantes. Con la calificación del último estudiante la tabla de objetivos queda fijada, donde { $least } o más tengan una: desde entonces se queda como está, aunque después haya cambios, pues dos tablas de las mismas personas dirían lo que una oculta. Antes no se dice a nadie más ningún recuento. Con { $least } calificaciones o más puede fijarla usted, lo que necesita una clase cuyos objetivos se escribieron después.
goals-settled = La tabla se fijó { $at }, y el departamento la lee como era entonces. Lo que se cambió aquí después, también los objetivos, no está en ella.
goals-settle = Fijarla ahora
goals-settle-about = Cuenta las notas tal como están, devueltas o no, con los objetivos escritos arriba. Se puede hacer una sola vez y no se deshace.
goals-settle-act = Fijar la tabla
goals-settled-already = La tabla de objetivos ya está fijada. Se queda como está.
goals-settle-early = Hay muy pocas calificaciones entregadas para fijar la tabla de objetivos. Entregue más primero.
goals-settle-none = No hay ningún objetivo que fijar. Escriba uno primero.
goals-goal = Objetivo
goals-all = Estudiantes
goals-hidden = oculto
goals-none = Todavía no hay ningún objetivo escrito. Escriba lo que un estudiante sabe hacer al final del periodo, y marque los criterios que lo muestran.
goals-remove = Quitarlo
goals-reach-far = 90 % y más
goals-reach-there = 75 % y más
goals-reach-near = 60 % y más
goals-reach-not_yet = menos del 60 %
goal-add = Añadir un objetivo
goal-change = Cambiar un objetivo
goal-change-short = Cambiar
goal-title = Lo que los estudiantes saben hacer al final
goal-criteria = Lo muestran estos criterios
goal-shown-by-what = No hay ningún criterio marcado. Marque al menos uno que muestre este objetivo.
goal-twice = Otro objetivo dice ya «{ $title }». Escríbalo con otras palabras.
done-goal = El objetivo está añadido.
done-goals-settled = La tabla de objetivos está fijada.
done-goal-removed = El objetivo ya no está.
done-goal-changed = El objetivo está cambiado.
exports-about-goals = Para la revisión del departamento: cuántos estudiantes han llegado hasta dónde en cada objetivo de aprendizaje, tal como se fijó, con los grupos pequeños ocultos. Sin ninguna fila hasta entonces.
exports-column-goal-id = El identificador del objetivo.
exports-column-goal = El objetivo con las palabras de la clase.
exports-column-goal-criterion-id = El id del criterio del que es el recuento; vacío para el objetivo en conjunto.
exports-column-goal-criterion = Su título cuando se fijó la tabla. Un objetivo y sus criterios se ocultan juntos.
exports-column-reach = Parte de los puntos de sus criterios: far es 90 % y más, there 75 %, near 60 %, not_yet menos.
exports-column-goal-students = Cuántos estudiantes; vacío donde está oculto.
exports-column-goal-hidden = Si el recuento está oculto, porque él u otro del mismo objetivo es menor que 5. Se cuentan las notas que había cuando se fijó la tabla.
exports-column-goal-students-in-all = Cuántos estudiantes tienen una nota para este objetivo; vacío donde son menos de 5.
exports-about-attendance = Quién estuvo presente, con retraso, ausente o con justificación en cada reunión en que se pasó asistencia.
exports-column-roll-entry-id = El identificador de la entrada.
exports-column-meeting-day = Día de la reunión.
exports-column-meeting-from = Cuándo empieza la reunión, en la hora de la clase.
exports-column-meeting-to = Cuándo acaba.
exports-column-presence = Cómo estuvo la persona en la reunión.
exports-column-called-by-id = Quién pasó la asistencia.
exports-column-called-at = Cuándo se anotó.
## ---- grades: submitting ----
submitted-title = Calificaciones presentadas
submitted-about = Qué se presentó, quién y cuándo, con cada cambio al lado. Las calificaciones tal como están no se muestran aquí.
submitted-missing = { $count ->
    [one] De 1 estudiante no se ha presentado nada todavía.
   *[other] De { $count } estudiantes no se ha presentado nada todavía.
}
submitted-none = Sin presentar
submitted-kept = Calificación presentada
submitted-how = Cómo
submitted-changes = Antes
submitted-superseded = (ya no vale)
submitted-by = Presentada { $at } por { $by }
submitted-by-itself = { $at }, por sí sola
submitted-before = { $letter }: { $line }.
submitted-percent = { FIGURE($rounded) } % redondeado, de { FIGURE($percent) } %
submitted-listing = { $listing }, cursada para { $basis }
submitted-remains = Lo que falta: { $remains }
submitted-until = Abierto hasta { $until }; después acaba en { $letter }.
submitted-reason = Motivo: { $reason }
submitted-working = Cómo se calculó aquel día
submitted-how-reckoned = Calculada según las reglas de la clase
submitted-how-by-hand = Elegida por el docente
submitted-how-incomplete = Incompleto
submitted-how-lapsed = Acabada desde un incompleto
submitted-last-log = Participó por última vez con un registro el { $day }
submitted-last-sign-off = Participó por última vez con una habilitación el { $day }
submitted-last-hand-in = Participó por última vez con una entrega el { $day }
submitted-last-meeting = Participó por última vez en la reunión del { $day }
submitted-last-none = Nada muestra que haya participado.
submitted-stale = La calificación presentada de este estudiante se cambió mientras tanto, así que no se guardó nada. Lo que vale ahora está arriba; lo que escribió se conserva. Envíelo otra vez para cambiar eso.
submitted-seen-stale = Aquello de lo que se calcula la calificación de { $name } cambió desde que usted lo miró. Mire la línea como es ahora y presente otra vez.
submitted-no-grade = { $name } no tiene ninguna calificación que se pueda presentar. Abra su página para elegir una a mano o acordar un incompleto.
submitted-reason-needed = Un cambio, o una calificación elegida a mano, se guarda con su motivo. Escríbalo.
submitted-until-past = Un incompleto dura hasta un día que aún no ha llegado. Elija uno posterior.
submitted-percent-wrong = «{ $value }» no es un porcentaje de 0 a 200. Esta clase no pone letras; escriba un número como 88 o 88,5.
submitted-letter-unknown = «{ $value }» no está entre las letras de esta modalidad. Elija una de: { $known }.
submitted-lapsed-reason = El incompleto duró hasta { $until } y acabó como se acordó.

submit-title = Presentar calificaciones
submit-about = Una calificación presentada se guarda con sus notas, reglas y cálculo tal como están ahora, con su nombre de usted. Nunca se sobrescribe: un cambio posterior figura al lado con su motivo. Los estudiantes reciben una carta sin la calificación.
submit-ready = Listas: { $count }.
submit-done = Ya presentadas: { $count }.
submit-without = Sin calificación: { $count }.
submit-would-be = Calificación
submit-look = Que hay que mirar
submit-last = Última participación
submit-alone = Aparte
submit-no-grade = ninguna
submit-kept-already = presentada
submit-nothing-counted = Todavía no cuenta nada.
submit-pending = { $count ->
    [one] Sin calificar, y por tanto sin contar: { $titles }.
   *[other] { $count } sin calificar, y por tanto sin contar: { $titles }.
}
submit-kept-back = Contado, y todavía sin devolver: { $titles }.
submit-nobody = No hay nadie marcado. Marque de quién hay que presentar la calificación.
submit-button = Presentar las calificaciones de las personas marcadas
decide-title = Calificación presentada de { $name }
decide-link = Presentar o cambiar la calificación
decide-how-it-stands = Cómo está la calificación
decide-now = Según las notas puestas es { $letter }, cursada para { $basis }.
decide-now-none = Según las notas puestas no hay calificación; cursada para { $basis }.
decide-submit = Presentar esta calificación
decide-submit-about = Se guarda con sus notas, reglas y cálculo tal como están ahora, con su nombre de usted.
decide-change = Cambiar esta calificación
decide-change-about = La calificación anterior queda junto a la nueva, con su motivo. El estudiante y el personal de registro leen las dos.
decide-way = Qué calificación
decide-way-reckoned = La calculada con las notas puestas
decide-way-by-hand = Elegida a mano
decide-way-incomplete = Incompleto
decide-percent-hint = Esta clase no pone letras: el porcentaje es la nota. Escriba un número como 88.
decide-letter = Letra, si se elige a mano
decide-incomplete = Para un incompleto
decide-remains = Lo que falta por hacer
decide-until = Abierto hasta
decide-lapses_to = Después acaba en
decide-reason = Motivo
decide-reason-hint = Hace falta para un cambio y para una calificación elegida a mano. El estudiante lo lee.
grade-letters-title = Letras de calificación
grade-letters-about = Lo que se presenta donde la escala propia de una clase no dice nada. Las calificaciones presentadas antes se quedan como están.
grade-letters-pass = Aprobado
grade-letters-no_pass = No aprobado
grade-letters-pass_from = Aprobado desde este porcentaje
grade-letters-pass_from-hint = Se compara con el porcentaje como lo redondea la clase. 70 es práctica común; decide su catálogo.
grade-letters-audit = Oyente
grade-letters-incomplete = Incompleto
grade-letters-twice = «{ $letter }» figura dos veces. Dé a cada una su propia letra, o nadie podrá distinguirlas.
done-grade-letters = Las letras están guardadas.
done-submitted = Presentado; las cartas van de camino.
roster-incomplete-by-grade = Un incompleto acaba con su calificación: cambie en su lugar la calificación presentada.

## ---- exports and records ----
exports-column-given-name = Nombre de la persona; vacío para quien usa un solo nombre.
exports-column-family-name = Apellidos de la persona.
exports-column-email = Dirección de correo; vacía si no se conoce.
exports-column-student-number = El número por el que la escuela conoce a la persona.
exports-column-external-id = El identificador que otro sistema de la escuela dio a la persona.
exports-column-listing = La asignatura en que está matriculada la persona, como LIT 220-01.
exports-column-role = Qué es la persona en la clase: estudiante (student) o ayudante (assistant).
exports-title = Registros
exports-lead = Cada tabla es un archivo CSV que abre cualquier programa de hojas de cálculo. Quién toma cuál, y cuándo, se anota abajo antes de que salga el primer byte. Desde entonces le toca a usted guardar lo que hay en el archivo.
exports-tables = Tablas
exports-rows = { $rows ->
    [one] 1 fila
   *[other] { $rows } filas
}
exports-download = Descargar { $file }
exports-columns-of = Lo que hay en sus { $count } columnas
exports-head-column = Columna
exports-head-meaning = Qué significa
exports-head-holds = Contiene
exports-head-unit = Unidad
exports-only-words = Una de: { $words }.
exports-grades-note = La tabla de calificaciones tiene cada calificación con lo devuelto hasta ahora y, al lado, lo presentado. El personal de registro recibe solo lo presentado.
exports-taken = Lo último que se tomó
exports-taken-none = Todavía no se ha tomado nada.
taken-title = Para qué lo toma
taken-about = Cada descarga se guarda con este motivo, y los estudiantes lo leen junto a lo que los nombró:
taken-change = Otro motivo
taken-choose = Tomarlo para esto
taken-for = Para qué
taken-for-records = Llevar el registro de la clase
taken-for-review = Revisión del departamento
taken-for-audit = Auditoría o evaluación exigida por ley
taken-for-transfer = Otro sistema de la escuela
taken-for-request = Lo pidió un estudiante
taken-for-other = Otra cosa
taken-words = Con palabras, si nada de esto sirve
exports-head-when = Cuándo
exports-head-who = Quién
exports-head-table = Tabla
exports-head-way = Por
exports-way-page = esta página
exports-way-command = línea de órdenes
exports-who-console = quien maneja la máquina
exports-holds-text = texto
exports-holds-number = número
exports-holds-date = fecha
exports-holds-instant = momento, UTC
exports-holds-yes-no = sí o no
exports-about-roster = Todas las personas que han estado en la clase, con asignatura y estado.
exports-about-prints = Todas las estampas: su proyecto, cuándo es la entrega, cuándo se entregaron y cómo están sus planchas.
exports-about-plates = Todas las planchas y piedras: tamaño, dibujo, procedimiento y cómo están.
exports-about-etches = Todos los registros de acidulación que valen: qué se mezcló y en qué resulta, las aplicaciones y cómo salió.
exports-about-signoffs = Todas las habilitaciones dadas en la clase, incluidas las retiradas.
exports-about-grades = La calificación de cada estudiante con lo devuelto hasta ahora, lo presentado, por quién y cuándo, y el último día en que participó.
exports-about-scores = Todas las puntuaciones que valen, devueltas o no, con su comentario.
exports-about-journal = Todos los actos de la clase, en orden, con su cadena de resúmenes. Los detalles cuentan asuntos de las personas.
exports-about-columns = Lo que hay en cada columna de cada tabla; igual para todas las clases.
exports-column-enrolment-id = El identificador del lugar de la persona en la clase.
exports-column-person-id = El identificador de la persona; el mismo en todas las tablas.
exports-column-listing-code = Código de la asignatura en que está ahora la persona, como LIT 220.
exports-column-listing-section = Sección de esa asignatura, como 01.
exports-column-level = Nivel de la asignatura.
exports-column-credits = Créditos de la asignatura.
exports-column-basis = Para qué se cursa la asignatura: una letra, aprobado u oyente.
exports-column-roster-role = Qué es la persona en la clase.
exports-column-state = Cómo está la matrícula.
exports-column-state-since = El día desde el que está así.
exports-column-incomplete-until = El día hasta el que dura un incompleto.
exports-column-lapses-to = La calificación en que acaba un incompleto.
exports-column-joined-at = Cuándo se puso aquí a la persona en la clase.
exports-column-project-id = El identificador del proyecto.
exports-column-project = Título del proyecto.
exports-column-print-id = El identificador de la estampa.
exports-column-print = Título de la estampa.
exports-column-edition-asked = La tirada que pide el proyecto.
exports-column-edition-size = La tirada que fijó la persona; vacía si no fijó ninguna.
exports-column-begun-at = Cuándo se empezó aquí.
exports-column-due-local = Cuándo es la entrega para esta persona, por el reloj de la zona de al lado.
exports-column-due-zone = Zona IANA de la fecha de entrega.
exports-column-due-at = El momento que significa la fecha de entrega.
exports-column-handed-in-at = Cuándo se entregó la estampa; vacío mientras no se entregue.
exports-column-days-late = Días de retraso empezados tras el margen de la clase: según cuándo se entregó, o según el momento de esta tabla mientras no se entregue.
exports-column-plates = Cuántas planchas y piedras tiene la estampa, incluidas las empezadas de nuevo.
exports-column-standings = El estado de cada una, en orden de estampación, unidos con punto y coma.
exports-column-plate-id = El identificador de la plancha o piedra.
exports-column-plate-number = Su número en la clase.
exports-column-printing-order = Su lugar en el orden de estampación de la estampa.
exports-column-surface = Plancha o piedra.
exports-column-width-cm = Anchura, completa; una pulgada son 2,54 cm.
exports-column-height-cm = Altura, completa.
exports-column-size-told-in = La unidad en que se indicó el tamaño.
exports-column-materials = Con qué está hecho el dibujo.
exports-column-drawing-weight = Cuánta grasa lleva el dibujo.
exports-column-procedure = El procedimiento que sigue la plancha.
exports-column-procedure-version = La versión de él que conserva la plancha.
exports-column-replaces-plate-id = La plancha cuyo lugar ocupó.
exports-column-standing = Cómo está la plancha.
exports-column-standing-since = Desde cuándo está así.
exports-column-gummed-at = Cuándo se engomó por última vez.
exports-column-rack-place = Dónde está en el estante.
exports-column-note = La nota de la persona sobre la plancha.
exports-column-etch-id = El identificador de la entrada que vale.
exports-column-first-entry-id = El identificador de la entrada con que empezó: el mismo a través de todas las correcciones.
exports-column-step = El paso del procedimiento, por su clave.
exports-column-etched-at = Cuándo se aplicó la acidulación.
exports-column-received-at = Cuándo llegó aquí el registro.
exports-column-recorded-by-id = El identificador de quien lo registró.
exports-column-known-how = Cómo se sabe: medido por el programa, contado en su momento o contado más tarde desde una ficha.
exports-column-mixture = Qué clase de mezcla fue.
exports-column-gum-mark = Marca en la etiqueta de la goma, como G3.
exports-column-gum-ml = Goma en la mezcla, según lo indicado.
exports-column-gum-told-in = La unidad en que se indicó la goma.
exports-column-gum-baume = Grados Baumé de la goma, por su etiqueta de ese día.
exports-column-gum-ph = pH de la goma pura, por su etiqueta de ese día.
exports-column-gum-sour = Si la goma estaba marcada como agria.
exports-column-stock-mark = Marca en la etiqueta de la solución madre.
exports-column-stock-ml = Solución madre en la mezcla, según lo indicado.
exports-column-acid-mark = Marca en la etiqueta del ácido.
exports-column-acid-kind = El ácido.
exports-column-bottle-weight-percent = Por ciento en peso de ácido en el frasco, por su etiqueta de ese día.
exports-column-acid-drops = Gotas de ácido, según lo indicado.
exports-column-drops-per-ml = Gotas del frasco en un mililitro; vacío donde su cuentagotas no estaba calibrado.
exports-column-drops-per-ml-spread = Cuánto puede desviarse, hacia cada lado.
exports-column-mixture-ml = Volumen de la mezcla, calculado; se supone que los volúmenes se suman.
exports-column-acid-ml = Volumen de las gotas, calculado; un cuentagotas sin calibrar cuenta como 25 gotas por mililitro.
exports-column-acid-ml-low = Lo mínimo que puede ser, según el margen del cuentagotas; sin calibrar, 33 gotas por mililitro.
exports-column-acid-ml-high = Lo máximo que puede ser; sin calibrar, 17 gotas por mililitro.
exports-column-acid-mol-per-l = Ácido puro en un litro de la mezcla, calculado desde el centro del intervalo del cuentagotas.
exports-column-acid-weight-percent = Ácido puro en 100 partes de la mezcla en peso, calculado del mismo modo.
exports-column-measured-ph = pH leído en la mezcla con tira o medidor.
exports-column-estimated-ph = pH que estima el modelo, nunca una medición; vacío donde el modelo no vale o se midió un pH. Su error es común a todas las mezclas de una misma goma y un mismo frasco: dentro de un lote, compare por gotas.
exports-column-estimated-ph-low = El extremo bajo de la estimación.
exports-column-estimated-ph-high = El extremo alto de la estimación.
exports-column-applications = Cuántas aplicaciones se dieron.
exports-column-application-seconds = Cuánto tiempo se mantuvo en movimiento cada una, en orden, unidas con punto y coma.
exports-column-tool = Con qué se aplicó.
exports-column-helper = Quién ayudó, según lo indicado.
exports-column-in-room = Quién más estaba en la sala, según lo indicado en la mesa; vacío si no se nombró a nadie.
exports-column-seen = Lo que se vio en la plancha.
exports-column-came-up = Cómo salió, según lo último que se contó al entintar o sacar una prueba.
exports-column-came-up-note = Lo que se anotó sobre eso.
exports-column-came-up-at = Cuándo se contó.
exports-column-outside-rules = Las reglas fuera de las que se hizo, unidas con punto y coma.
exports-column-amendments = A cuántas entradas ha sustituido esta.
exports-column-amended-because = Por qué difiere de la entrada anterior.
exports-column-sign-off-id = El identificador de la habilitación.
exports-column-topic-id = El identificador del tema.
exports-column-topic = El tema.
exports-column-topic-version = La versión de su lista de comprobación que se firmó.
exports-column-studio = El taller para el que vale.
exports-column-sign-off-grade = Demostrada, observada o a solas.
exports-column-given-by-id = El identificador de quien la dio.
exports-column-given-by-given-name = Nombre de quien la dio.
exports-column-given-by-family-name = Apellidos de quien la dio.
exports-column-sign-off-given-at = Cuándo se dio.
exports-column-acknowledged-at = Cuándo la confirmó la persona.
exports-column-valid-until = El último día de su vigencia; vacío donde no tiene final.
exports-column-sign-off-note = Lo que anotó quien la dio.
exports-column-taken-back-at = Cuándo la retiró quien la dio.
exports-column-withdrawn-at = Cuándo se retiró.
exports-column-withdrawn-because = Por qué se retiró.
exports-column-percent = La calificación hasta ahora, de lo devuelto, con cuatro decimales; vacía mientras no cuente nada.
exports-column-rounded-percent = La misma como la redondea la clase.
exports-column-letter = La letra del porcentaje redondeado según la escala de la clase; vacía para aprobado y oyente.
exports-column-counted-weight-percent = La parte del peso en que hay algo contado.
exports-column-submitted = Si se presentó una calificación.
exports-column-submitted-letter = La letra presentada que vale; vacía mientras no se haya presentado nada.
exports-column-submitted-percent = El porcentaje redondeado con que se presentó; vacío donde no se calculó ninguno.
exports-column-submitted-how = Cómo resultó: calculada, elegida a mano, un incompleto, o acabada desde uno.
exports-column-submitted-by = Quién la presentó; vacío donde un incompleto acabó por sí solo.
exports-column-submitted-at = Cuándo se presentó.
exports-column-submitted-listing = La asignatura para la que se presentó.
exports-column-submitted-basis = Para qué se cursaba esa asignatura.
exports-column-grade-changes = A cuántas calificaciones presentadas ha sustituido.
exports-column-grade-reason = Por qué se cambió o se eligió a mano.
exports-column-last-day = El último día en que algo muestra que la persona participó: una reunión, un registro, una habilitación o un trabajo entregado, nunca una entrada en el programa.
exports-column-last-deed = Qué fue.
exports-column-no-grade-because = Por qué no hay calificación.
exports-column-score-id = El identificador de la puntuación.
exports-column-assessment-id = El identificador de lo evaluado.
exports-column-category = La categoría en que cuenta.
exports-column-assessment = Lo que se evaluó.
exports-column-possible-points = Los puntos que se pueden obtener.
exports-column-extra-credit = Si cuentan solo como añadido.
exports-column-status = Calificado, exento, no entregado o aún sin calificar.
exports-column-points = Los puntos dados, antes de descontar nada por retraso.
exports-column-comment = El comentario al estudiante.
exports-column-scored-by-id = El identificador de quien dio la puntuación.
exports-column-scored-at = Cuándo se dio.
exports-column-handed-back-at = Cuándo se devolvió; vacío mientras solo la vea el docente.
exports-column-corrects-score-id = La puntuación que corrige.
exports-column-corrected-because = Por qué difiere de aquella.
exports-column-seq = Lugar en el diario de la clase, desde 1.
exports-column-act-at = El momento del acto.
exports-column-act = Qué se hizo.
exports-column-subject-id = Sobre qué.
exports-column-detail = Los detalles en JSON; vacíos donde se purgaron.
exports-column-salt = Lo que se resume junto con los detalles.
exports-column-detail-hash = SHA-256 de la sal y los detalles.
exports-column-hash = SHA-256 del resumen anterior y de esta fila.
exports-column-table-name = La tabla.
exports-column-column-position = Lugar de la columna en ella, desde 1.
exports-column-column-name = Encabezado de la columna.
exports-column-holds = Qué clase de valor contiene; un momento es RFC 3339 en UTC.
exports-column-unit = Unidad de sus números.
exports-column-words = Las únicas palabras que hay, unidas con punto y coma, donde forman un conjunto cerrado.
exports-column-meaning = Qué significan los valores.

## ---- archive: one file for a department to keep ----
archive-title = Archivo de la clase
archive-about = Un solo archivo zip con todas las tablas, el cálculo de cada calificación, los procedimientos, las imágenes y el diario, que un departamento puede guardar y leer sin este programa. Un Tympan vacío se puede volver a llenar con él.
archive-now = Descargar el archivo tal como está ahora
archive-made = Hechos antes
archive-made-about = Cada uno da otra vez el mismo fichero, aunque después haya cambios, mientras no se retire ninguna imagen suya.
archive-made-term = Hechos antes, de todas las clases del periodo
archive-of = A fecha de { $at }
archive-whole-term = Descargar el archivo de todas las clases del periodo
archive-term-others = Usted no imparte { $codes }, así que no puede tomar el archivo de todo el periodo. Pídalo a quien lleva la máquina (tympan archive), o tome sus clases una por una.
archive-as-of = «{ $value }» no es un momento. Abra otra vez la página de registros y tome de allí el archivo.
archive-to-come = { $at } está por venir. Tome el archivo tal como está ahora, o espere.
archive-changed-since = { $acts ->
    [one] Desde { $at } se anotó en el diario un acto de la clase o de su escuela, y entonces no se hizo ningún archivo de ese momento: ya no se sabe qué habría contenido. Tome el archivo tal como está ahora, o uno hecho antes.
   *[other] Desde { $at } se anotaron en el diario { $acts } actos de la clase o de su escuela, y entonces no se hizo ningún archivo de ese momento: ya no se sabe qué habría contenido. Tome el archivo tal como está ahora, o uno hecho antes.
}
archive-picture-gone = { $name } de ese archivo se retiró después, así que el mismo fichero ya no puede hacerse. Tome el archivo tal como está ahora.
archive-readme-head = Archivo de { $classes }. { $school }, { $term }.
    Hecho por { $made_by } con lo que había el { $as_of } (UTC): el diario, las cartas y las comunicaciones de ese momento y posteriores no están en él.
archive-readme-csv = csv/: todas las tablas como archivos CSV (RFC 4180, UTF-8). Las abre cualquier programa de hojas de cálculo. csv/columns.csv dice qué hay en cada columna, en qué unidad y qué palabras puede contener. Los momentos son UTC. Lo que se llama estimación nunca es una medición. Un texto que empieza como una fórmula lleva delante un apóstrofo.
archive-readme-grades = grades/: un archivo de texto por estudiante con la calificación presentada, por quién y cuándo, cada cambio con su motivo, el cálculo línea por línea y todas las notas.
archive-readme-images = images/: fotos de pruebas e imágenes de procedimientos, cada una con el identificador que dan las tablas, en tres tamaños (full.jpg es todo lo que se conservó de lo que se tomó).
archive-readme-how-to = how-to/: los procedimientos con que trabajó la clase, todas las versiones, en JSON.
archive-readme-data-sheets = data-sheets/: fichas de datos de seguridad tal como estaban archivadas, cada una con su SHA-256. Pueden estar anticuadas: pida a la oficina de seguridad la que vale.
archive-readme-data = data/: las propias filas, un archivo por tabla, una línea de JSON por fila; la primera línea nombra las columnas. No están entre ellas las contraseñas, las sesiones ni los enlaces, y nadie tiene un permiso de la escuela.
archive-readme-as-of = Qué significa «a fecha de»: todo está como estaba en ese momento; lo que ocurrió entonces o después no está. Si se pide otra vez el mismo momento, el programa da este mismo fichero, aunque entretanto haya cambios, hasta que se retire una imagen suya o se purgue su contenido. Las filas anteriores a una corrección están a su lado. Lo que dio uno de dos evaluadores queda fuera hasta que ambos terminan. Que una clase o una persona esté retenida consta; el porqué lo guarda la escuela.
archive-readme-journal = data/journal.jsonl y data/journal_detail.jsonl contienen todos los actos en su orden. El resumen de una fila es el SHA-256 de lo siguiente, cada cosa acabada en un byte cero: el resumen anterior, scope, seq, at (milisegundos), person_id, act, subject y detail_hash; detail_hash es el SHA-256 de salt, un byte cero y detail. Donde se purgó un detalle, su fila sigue ahí. journal-heads.json dice dónde acaba cada cadena; guardado en otra parte muestra si después se cortaron filas.
archive-readme-check = manifest-sha256.txt nombra el SHA-256 de todos los demás archivos; «sha256sum --check manifest-sha256.txt» los compara, y lo mismo hace «tympan check» con el nombre del archivo zip.
archive-readme-back = «tympan restore --from» con el nombre del archivo zip llena con todo esto un Tympan vacío, para que se pueda leer en páginas.
archive-readme-guard = Este archivo contiene registros académicos de personas con su nombre. Quien lo guarda lo protege, y no da nada de él que la ley y las reglas de la escuela no permitan.
archive-readme-missing = { $count ->
    [one] 1 archivo de imagen que nombra el registro no estaba en el estante; archive.json lo nombra.
   *[other] { $count } archivos de imagen que nombra el registro no estaban en el estante; archive.json los nombra.
}
archive-no-archive = Esto no es un archivo de un Tympan: falta archive.json o dice otra cosa.
archive-newer = Este archivo lo hizo { $made_by }, más reciente que este programa. Use el programa más reciente.
archive-unreadable = { $name } no se puede leer de su disco.
archive-no-json = { $name } no se puede leer: la línea { $line } no es JSON.
archive-ends = { $name } no se puede leer: se interrumpe en la línea { $line }.
archive-other-json = { $name } no se puede leer: la línea { $line } es JSON, pero no lo que este archivo debe contener.
archive-no-column = { $name } no tiene la columna { $column }.
archive-no-head = { $name } no dice dónde termina el diario de { $class }.
archive-act-changed = Diario de { $class }, acto { $act }: la fila se cambió después de escribirse.
archive-detail-changed = Diario de { $class }, acto { $act }: su detalle se cambió después de escribirse.
archive-acts-missing = Diario de { $class }, en el acto { $act }: faltan filas, o el extremo no es el de la última fila.
archive-manifest-line = La línea { $line } de manifest-sha256.txt no es un resumen, dos espacios y un nombre.
archive-manifest-twice = manifest-sha256.txt nombra dos veces { $name }.
archive-file-missing = Falta { $name }: el manifiesto lo nombra.
archive-file-extra = Sobra { $name }: el manifiesto no lo nombra.
archive-file-differs = { $name } se cambió: su SHA-256 no es el del manifiesto.
parcel-no-zip = Esto no es un archivo zip, o está dañado.
parcel-twice = «{ $name }» está dos veces en el archivo zip, así que no se puede saber a cuál se refiere. Empaquételo otra vez con cada nombre una sola vez.
parcel-many = El archivo zip contiene { $count } archivos, más de los que tiene cualquiera de los nuestros.
parcel-directory = El índice del archivo zip nombra dos veces un archivo o deja uno fuera.
parcel-name-text = Un nombre del archivo zip no es UTF-8.
parcel-locked = «{ $name }» está cerrado con una contraseña. Empaquételo otra vez sin ella.
parcel-link = «{ $name }» es un enlace a otra parte. Empaquete el propio archivo.
parcel-absolute = «{ $name }» nombra un lugar fuera del archivo zip. No se desempaquetó nada.
parcel-outside = «{ $name }» sale del archivo zip con «..». No se desempaquetó nada.
parcel-name = «{ $name }» no es un nombre que pueda tener un archivo nuestro. No se desempaquetó nada.
parcel-large = «{ $name }» es mayor de lo que puede ser un archivo nuestro. No se desempaquetó nada.
parcel-bomb = «{ $name }» dice que desempaquetado ocupa más de trescientas veces su tamaño, lo que no hace ningún archivo nuestro. No se desempaquetó nada.
parcel-all-large = Desempaquetados, los archivos juntos serían mayores de lo que puede ser cualquiera de los nuestros. No se desempaquetó nada.
parcel-shared = Hay archivos en el zip que comparten sus bytes, lo que no hace ningún archivo nuestro. No se desempaquetó nada.
parcel-missing = Falta «{ $name }».
parcel-damaged = «{ $name }» está dañado: lo que sale no es lo que se empaquetó. Consiga de nuevo el archivo zip.
parcel-packed-otherwise = «{ $name }» está empaquetado de un modo que este programa no lee. Empaquételo otra vez como un archivo zip corriente.
parcel-longer = «{ $name }» es más largo de lo que dice el archivo zip. Se dejó de desempaquetar.
parcel-shorter = «{ $name }» es más corto de lo que dice el archivo zip.
parcel-not-text = «{ $name }» no es texto en UTF-8.
restore-not-empty = Aquí ya hay una escuela. Vuelva a leer un archivo en un Tympan vacío: una carpeta de datos nueva, o una base de datos nueva.
restore-column-unknown = El archivo tiene una columna { $column } en { $table } que este programa no conoce. Use el programa con que se hizo, u otro más reciente.
restore-row-length = Una fila de { $table } en el archivo tiene { $count } valores en lugar de { $wanted }.
restore-row-refused = Hay datos de { $table } en el archivo que no encajan, en las líneas { $from } a { $to } de su fichero.
restore-row-twice = Las líneas { $from } a { $to } de { $table } en el archivo contienen una fila dos veces, o dos que dicen lo que solo una puede decir.
restore-row-nowhere = Una fila de las líneas { $from } a { $to } de { $table } en el archivo nombra otra que no está.
restore-row-value = Una fila de las líneas { $from } a { $to } de { $table } en el archivo tiene un valor que no puede estar ahí, o no tiene ninguno.
restore-picture = { $name } no lleva por nombre el identificador de una imagen.
working-as-of = A fecha de { $at } (UTC)
working-marks = Notas
working-in-hand = Cómo está la calificación con todas las notas puestas

## ---- oneroster: packages that follow the CSV binding ----
oneroster-title = Paquete para otro sistema
oneroster-about = Un archivo zip de archivos CSV que sigue la forma CSV de OneRoster 1.2, completo (bulk): personas, funciones, clase, categorías, evaluaciones y lo que se devolvió. Los pesos son allí por cientos enteros; los exactos figuran al lado.
oneroster-download = Descargar el paquete
roster-list-package = También se lee un archivo zip que siga la forma CSV de OneRoster 1.2; sus docentes quedan fuera.
oneroster-no-package = Este archivo zip no tiene manifest.csv, así que no es un paquete de la forma CSV de OneRoster. Elija el archivo zip como lo hizo el otro sistema.
oneroster-version = El manifiesto dice la versión «{ $value }» de OneRoster. Aquí se lee la versión 1.2: elíjala donde se hace el paquete.
oneroster-manifest = Una línea de manifest.csv no es una propiedad y un valor.
oneroster-manifest-twice = manifest.csv nombra dos veces { $name }.
oneroster-absent-there = El manifiesto da { $file } por ausente (absent), pero { $file }.csv está.
oneroster-file-missing = El manifiesto da { $file } por completo (bulk), pero falta { $file }.csv.
oneroster-delta = { $file } contiene solo cambios (delta). Una lista de clase lo necesita todo: haga el paquete completo (bulk).
oneroster-mode = El manifiesto llama «{ $value }» a { $file }. Puede ser bulk, delta o absent.
oneroster-needed = El paquete no tiene { $file }.csv, de donde se lee la lista de la clase. Haga el paquete de nuevo con él en bulk.
oneroster-csv = { $file }.csv no se puede leer como CSV.
oneroster-row-length = { $file }.csv, línea { $line }: la fila tiene { $count } celdas en lugar de { $wanted }. Busque una coma de más o de menos, o unas comillas sin cerrar.
oneroster-heads = Las columnas de { $file }.csv no son las de esa forma. Son, en este orden: { $wanted }.
oneroster-no-id = { $file }.csv, línea { $line }: «{ $value }» no es un identificador. Un identificador tiene solo letras, cifras y . - _ / @.
oneroster-id-twice = { $file }.csv, línea { $line }: el identificador «{ $id }» figura dos veces.
oneroster-empty = { $file }.csv, línea { $line }: { $column } está vacía y tiene que estar.
oneroster-value = { $file }.csv, línea { $line }: «{ $value }» no es nada que { $column } pueda contener.
oneroster-nowhere = { $file }.csv: { $column } de «{ $id }» nombra «{ $value }», que no está en { $other }.csv.
oneroster-circle = { $file }.csv: «{ $id }» es su propio superior, a través de otros o directamente.
oneroster-no-class = El paquete no contiene ninguna clase.
oneroster-which-class = El paquete contiene varias clases y ninguna con el código { $code }. Son: { $known }.

## ---- records: what was told outside, keeping and purging, a file for an appeal ----
own-data-download = Descargar todo lo mío de esta clase
own-data-readme = Todo lo propio de { $name } en { $class }, a fecha de { $at } (UTC): lo hecho, devuelto, anotado en la asistencia, concedido y comunicado. grades.txt es el cálculo de la calificación en palabras; submitted-grades.json dice de qué se siguió cada calificación presentada; data/ contiene las filas, una línea de JSON cada una, la primera con los nombres de las columnas; images/ las fotos de pruebas. Lo que no se ha devuelto no está entre ello.
told-title = Comunicado a otros
told-about = Lo que se comunicó de un estudiante a alguien de fuera de la escuela, a quién y para qué (34 CFR 99.32). El estudiante lee las entradas que tratan de él. Las tablas que toman los docentes y el personal de registro constan en la página de registros.
told-about-own = Lo que se comunicó de usted a alguien de fuera de la escuela, a quién y para qué. Pida a la oficina de registro lo que falte.
told-none = No hay nada anotado.
told-record = Anotar lo que se comunicó
told-person = Estudiante
told-party = A quién
told-purpose = Para qué
told-purpose-hint = El interés que dieron para pedirlo.
told-what = Qué se comunicó
told-by = Anotado por
told-taken = Tablas que le nombraron
told-taken-about = Lo que personas de la escuela sacaron de esta clase desde que usted está en ella.
told-taken-what = Qué
done-disclosed = Anotado.
retention-title = Conservar y purgar
retention-about = Cuánto tiempo se conservan los registros. Las calificaciones, sus pruebas y su cálculo, las habilitaciones y los propios registros nunca se purgan. Los números los deciden la ley, el catálogo y la oficina de registro; pregúnteles antes de poner ninguno. Este programa no hace todavía copias de seguridad: lo que se purgó sigue en las copias que usted haya hecho por otros medios.
retention-rules = Reglas
retention-rules-about = Días desde el último día del periodo, o desde que acabó una sesión. Vacío: se conserva sin fin. Una regla sola no quita nada: purgar es un acto aparte.
retention-photos = Fotos de pruebas
retention-comments = Comentarios
retention-etch_notes = Notas junto a los registros de acidulación
retention-letters = Contenido de las cartas
retention-sign_ins = Entradas en el programa
retention-archives = Archivos guardados
retention-due = Lo que se iría ahora
retention-due-about = Se va el contenido, y con él lo que el diario cuenta en detalle y los archivos que se guardan de la clase; que hubo algo se queda, y el diario dice que se purgó. No se puede deshacer. Los archivos que se tomaron y las copias hechas antes lo siguen conteniendo.
retention-due-none = No hay nada que purgar.
retention-where = De
retention-school = La escuela
retention-held = Retenido
retention-purge = Purgar
retention-stale = Lo que hay que purgar cambió desde que usted lo miró. Mire los números como son ahora y purgue otra vez.
retention-holds = Retenciones
retention-holds-about = Lo retenido no se purga, digan lo que digan las reglas: mientras dure una reclamación, una queja o una solicitud.
retention-whose = De quién
retention-since = Desde
retention-lift = Levantar
retention-lifted = levantada
retention-hold = Retener
retention-hold-one = Elija una clase o escriba el correo de una persona, no las dos cosas.
retention-hold-unknown = Nadie tiene este correo. Compruebe cómo está escrito.
retention-held-already = Esto ya está retenido.
hold-class = Clase
hold-email = O una persona, por su correo
hold-why-appeal = Se recurre una calificación
hold-why-complaint = Se estudia una queja
hold-why-office = Lo pidió la oficina de la escuela
done-retention = Las reglas están guardadas.
done-held = Retenido.
done-lifted = Levantado.
done-purged = Purgado. El diario dice qué se fue.
cleared-title = Quién está habilitado
cleared-about = Habilitados para { $room } el { $day }.
cleared-about-room = Habilitados para { $room } el { $day }: todas las personas de { $classes }.
cleared-room = Todos los de este taller
training-of = Formación de { $name }
training-about = Lo observado en { $room }, tal como está el { $day }. Imprímalo desde el navegador.
training-missing = Sin habilitación todavía: { $topics }.
cleared-note = «A solas» puede trabajar en horas de apertura; «observada» lo hizo ante alguien que puede dar fe; «demostrada» lo ha visto. Una habilitación no sustituye la ficha de datos de seguridad, las normas locales ni la oficina de seguridad de la escuela.
cleared-over = venció { $day }
appeal-title = Expediente de { $name }
appeal-link = Expediente para una reclamación
appeal-about = { $class }, { $term }, tal como está { $at }. Imprímalo desde el navegador.
appeal-given = Dada { $at } por { $by }
appeal-superseded = (ya no vale)
appeal-letters = Cartas
appeal-letters-none = No se escribió ninguna carta.
appeal-photos = Pruebas
appeal-photos-none = No hay ninguna foto.
appeal-photo = Prueba { $number }

## ---- letters ----
letters-hello = Hola, { $name }:
letters-utc = { $at } UTC
letters-invitation-subject = Abra su cuenta: { $place }
letters-invitation-class = Usted está en la clase «{ $class }» de { $school }. Abra su cuenta para ver sus planchas, sus habilitaciones y lo que viene después.
letters-invitation-school = Hay una cuenta para usted en el taller de grabado de { $school }.
letters-invitation-button = Abrir su cuenta
letters-invitation-until = El enlace funciona una sola vez, hasta { $until }. Después, pida uno nuevo en la página de contraseña olvidada.
letters-invitation-unexpected = Si esto no le dice nada, no haga nada: sin el enlace no se abre ninguna cuenta.
letters-reset-subject = Elija una contraseña nueva
letters-reset-lead = Alguien, muy probablemente usted, pidió una contraseña nueva para su cuenta.
letters-reset-button = Elegir una contraseña nueva
letters-reset-until = El enlace funciona una sola vez, en los { $minutes } minutos siguientes a pedirlo: hasta { $until }.
letters-reset-unexpected = Si no fue usted, no haga nada: su contraseña se queda como está.
letters-password-changed-subject = Su contraseña se cambió
letters-password-changed-lead = La contraseña de su cuenta se cambió el { $at }.
letters-password-changed-unexpected = Si no fue usted, pida enseguida una contraseña nueva y avise a quien lleva su clase.
letters-password-changed-button = Pedir una contraseña nueva
letters-email-changed-subject = Su dirección de correo se cambió
letters-email-changed-lead = La dirección de su cuenta se cambió a { $email } el { $at }.
letters-email-changed-here = Desde ahora entra con esta dirección, y aquí llegan las cartas.
letters-email-changed-unexpected = Esta carta es la última que llega aquí. Si no fue usted, avise enseguida a quien lleva su clase o a quien administra la escuela: alguien conoce su contraseña.
letters-email-changed-button = Su cuenta
letters-handed-back-subject = Devuelto: { $place }
letters-handed-back-lead = Su docente ha devuelto lo que se calificó en { $place }:
letters-handed-back-button = Ver sus calificaciones
letters-second-look-asked-subject = Se pide una segunda revisión: { $place }
letters-second-look-asked-lead = { $name } pide una segunda revisión de la nota de «{ $title }». El motivo está junto a la nota.
letters-second-look-asked-button = Revisarla
letters-second-look-asked-note = Diga por qué se mantiene la nota, o dé una nueva con su motivo. Se puede pedir una segunda revisión por cada nota.
letters-second-look-answered-subject = Su segunda revisión: { $place }
letters-second-look-answered-lead = Su docente ha revisado otra vez la nota de «{ $title }». La respuesta está junto a ella.
letters-second-look-answered-button = Leer la respuesta
letters-second-look-answered-note = En una carta no figura ninguna calificación; está detrás de su contraseña.
letters-handed-back-note = En una carta no figura ninguna calificación; está detrás de su contraseña.
letters-grade-submitted-subject = Calificación presentada: { $place }
letters-grade-submitted-lead = Su calificación en { $place } se presentó a { $school }.
letters-grade-changed-subject = Calificación cambiada: { $place }
letters-grade-changed-lead = Su calificación presentada en { $place } se cambió. Lo que valía antes y el motivo figuran a su lado.
letters-due-moved-subject = Nueva fecha de entrega: { $title }
letters-due-moved-class = La fecha de entrega de «{ $title }» en { $place } se ha movido para quienes no tienen una propia.
letters-due-moved-own = Usted tiene una fecha de entrega propia para «{ $title }» en { $place }.
letters-due-moved-back = Su fecha de entrega propia para «{ $title }» en { $place } se ha retirado, así que vale la de la clase.
letters-due-moved-now = La entrega es { $due } (zona horaria { $zone }).
letters-due-moved-before = Antes la entrega era { $due }.
letters-due-moved-reason = El motivo: { $reason }
letters-due-moved-private = Por qué tiene usted una fecha propia no figura en ninguna carta; está detrás de su contraseña.
letters-due-moved-button = Ver el proyecto
letters-daily-lead = { $name }, hay una cosa que va primero { $day }.
letters-daily-next = Lo primero
letters-daily-due = La entrega de la estampa es { $due }.
letters-daily-subject-sign-off = Lo primero: obtenga su habilitación «{ $topic }»
letters-daily-heading-sign-off = Obtenga su habilitación «{ $topic }»
letters-daily-words-sign-off = La plancha { $number }, «{ $title }», no puede seguir con { $step } sin ella. { $grade ->
    [shown] Basta con que se le demuestre y usted lo confirme.
    [watched] Alguien que pueda observarla tiene que verle hacerlo.
   *[alone] Tiene que ser la de trabajar a solas.
}
letters-daily-button-sign-off = Ver quién puede darla
letters-daily-label-sign-off = Habilitación
letters-daily-line-sign-off = La plancha { $number }, «{ $title }», necesita «{ $topic }» para { $step }.
letters-daily-subject-gum = Lo primero: la plancha { $number } bajo goma, hasta { $by }
letters-daily-heading-gum = La plancha { $number } lleva ya bastante tiempo bajo goma
letters-daily-words-gum = «{ $title }» puede quedar bajo esta goma hasta { $by }. Siga con ella, o engómela de nuevo, antes de entonces.
letters-daily-label-gum = Goma
letters-daily-line-gum = La plancha { $number }, «{ $title }», puede quedar bajo esta goma hasta { $by }.
letters-daily-subject-expiring = Lo primero: renueve su habilitación «{ $topic }»
letters-daily-heading-expiring = Renueve su habilitación «{ $topic }»
letters-daily-words-expiring = Acaba { $by }. La plancha { $number }, «{ $title }», puede necesitarla más tarde, para { $step }.
letters-daily-line-expiring = «{ $topic }» acaba { $by }; la plancha { $number } puede necesitarla más tarde, para { $step }.
letters-daily-subject-start = Lo primero: { $step }, plancha { $number }, antes de { $by }
letters-daily-words-start = La plancha { $number }, «{ $title }», está lista para ello. Empiece antes de { $by }, o la fecha de entrega no podrá cumplirse como estaba previsto.
letters-daily-label-start = Empezar antes de
letters-daily-line-start = { $by }: { $step }, plancha { $number }, «{ $title }».
letters-daily-subject-ready = Lo primero: { $step }, plancha { $number }
letters-daily-heading-ready = { $step }
letters-daily-words-ready = La plancha { $number }, «{ $title }», está lista para ello.
letters-daily-button-ready = Ver la plancha
letters-daily-label-ready = Lista
letters-daily-line-ready = Plancha { $number }, «{ $title }»: { $step }.
letters-daily-subject-due = Lo primero: la entrega de «{ $title }» es { $due }
letters-daily-heading-due = Entregue «{ $title }»
letters-daily-words-due = La entrega es { $due }.
letters-daily-button-due = Ver cómo está
letters-daily-label-due = Entrega
letters-daily-line-due = La entrega de «{ $title }» es { $due }.
letters-daily-left-out = Y { $count ->
    [one] una cosa más
   *[other] { $count } cosas más
}: entre para verlo todo.
letters-daily-stood = Así estaba su registro a las { $at }, y puede haber cambiado desde entonces.
letters-daily-caution = Trabaje con ácido, disolvente o prensa: la ficha de datos de seguridad y las reglas del propio taller van primero.
letters-daily-why = Usted recibe esta carta los días en que algo está listo, hay una entrega o falta algo.
letters-stop-line = Dejar de recibir cartas de este tipo
letters-choose-line = Elegir qué cartas llegan
letters-urgent-subject = { $step }, plancha { $number }: empiece antes de { $by }
letters-urgent-heading = { $step } antes de { $by }
letters-urgent-words-same-day = Plancha { $number }, «{ $title }»: { $step } corresponde al día en que empezó el reposo que lo precede. Empiécelo antes de { $by }, o entalque hoy la plancha y guárdela bajo goma.
letters-urgent-words-limit = Plancha { $number }, «{ $title }»: el reposo máximo antes de { $step } acaba { $limit }. Empiécelo antes de { $by }, u ocúpese antes de la plancha como lo hace su clase.
letters-urgent-button = Ver la plancha
letters-urgent-why = Usted recibe un aviso así una sola vez, cuando un límite vence antes de su siguiente carta diaria.
letters-week-subject = La semana desde { $day }: { $place }
letters-week-lead = { $name }, así está { $place } en la semana desde { $day }: { $plates } { $plates ->
    [one] plancha
   *[other] planchas
} en curso.
letters-week-quiet = Nadie va con retraso ni está atascado, nada le espera y no hay entregas en los próximos siete días.
letters-week-waiting = Le espera a usted: { $count }
letters-week-late = Con retraso: { $count }
letters-week-stuck = Atascadas: { $count }
letters-week-line = plancha { $number }, «{ $title }»: { $step }
letters-week-due = Entregas en los próximos siete días
letters-week-due-line = «{ $title }», { $count } { $count ->
    [one] estampa
   *[other] estampas
} sin entregar
letters-week-fits = Las { $asked } estampas encuentran sitio antes de sus fechas de entrega ({ $fits } de ellas, según el plan de la clase).
letters-week-fits-not = { $fits } de { $asked } estampas encuentran sitio antes de sus fechas de entrega; la primera sin sitio es { $first }.
letters-week-plan = Ver el plan de la clase
letters-week-button = Ver la clase
letters-week-stood = Tal como estaba { $at }.
letters-week-digest = El diario de la clase contiene { $acts } actos, sellados por { $digest }.
letters-week-why = Usted recibe esta carta el primer día abierto de cada semana.
letters-list = Cartas
letters-list-about-class = Lo que se envió a las personas de esta clase. Lo que dice una carta no se muestra a nadie más que a quien la recibe.
letters-list-about-school = Lo que se envió a personas de la escuela. Lo que dice una carta no se muestra a nadie más que a quien la recibe.
letters-list-kind = Carta
letters-list-person = A
letters-list-class = Clase
letters-list-state = Estado
letters-list-when = Cuándo
letters-list-error = Lo que se respondió
letters-list-again = Intentar otra vez
letters-list-older = Cartas más antiguas
letters-list-next-try = próximo intento { $at }
letters-list-none = Aquí no hay cartas. Se escriben solas: invitaciones, fechas movidas, la carta diaria.
letters-list-all = Todas
letters-list-tries = { $count ->
    [one] 1 intento
   *[other] { $count } intentos
}
letters-kind-invitation = Invitación
letters-kind-reset = Contraseña nueva
letters-kind-password-changed = Contraseña cambiada
letters-kind-email-changed = Dirección de correo cambiada
letters-kind-daily = Carta diaria
letters-kind-urgent = Aviso
letters-kind-week = Carta de la semana
letters-kind-due-moved = Fecha de entrega movida
letters-kind-handed-back = Devuelto
letters-kind-second-look-asked = Segunda revisión pedida
letters-kind-second-look-answered = Segunda revisión respondida
letters-kind-grade-submitted = Calificación presentada
letters-kind-unknown = Carta de una versión más reciente
letters-state-waiting = En espera
letters-state-sent = Enviada
letters-state-failed = Fallida
letters-state-dropped = No enviada
letters-dropped-no-address = No hay dirección de correo de esta persona.
letters-dropped-bad-address = Lo que figura como correo de esta persona no es una dirección.
letters-dropped-not-enrolled = La persona ya no está en la clase.
letters-dropped-link-dead = El enlace que llevaba se usó, se sustituyó o era demasiado viejo.
letters-dropped-day-over = El día para el que era ha pasado.
letters-dropped-turned-off = La persona no quiere cartas de este tipo.
letters-dropped-too-late = Lo que avisaba había pasado ya.
letters-dropped-address-rests = Las cartas a esta dirección descansan: el servidor de correo la ha rechazado definitivamente demasiadas veces.
letters-waits-quiet = Se mantiene fuera de las horas de silencio y de los días cerrados.
letters-week-unreached = Las cartas no llegan a { $who }: el servidor de correo rechaza la dirección. Compruébela y haga que se envíen cartas otra vez.
letters-resting = Direcciones que descansan
letters-resting-about = El servidor de correo rechazó definitivamente estas direcciones tres veces seguidas, así que ya no van cartas allí; lo que decían está en las páginas. Compruebe la dirección con su dueño, corríjala en la lista de clase donde esté mal, y haga que se envíen cartas otra vez.
letters-resting-since = Descansa desde
letters-resting-address = Dirección
letters-resting-wake = Enviar otra vez
letters-dropped-overtaken = La fecha se había movido otra vez; lo cuenta una carta posterior, o al final no había cambiado nada.
letters-not-failed = Esta carta no ha fallado, así que no hay nada que intentar otra vez.
letters-stop = Dejar de enviar cartas de este tipo
letters-stop-about = { $kind ->
    [daily] Con esto deja de enviarse la carta diaria a { $name }.
    [urgent] Con esto dejan de enviarse a { $name } los avisos de un límite que vence antes de la siguiente carta diaria. La página de la plancha lo sigue diciendo.
    [week] Con esto deja de enviarse a { $name } la página semanal de la clase.
    [handed-back] Con esto dejan de enviarse a { $name } las cartas que dicen que se devolvieron calificaciones.
    [second-look-asked] Con esto dejan de enviarse a { $name } las cartas que dicen que alguien pide una segunda mirada a una calificación. La página de las calificaciones lo sigue diciendo.
    [second-look-answered] Con esto dejan de enviarse a { $name } las cartas que dicen que se respondió a una segunda mirada. La página de las calificaciones lo dice.
    [grade-submitted] Con esto dejan de enviarse a { $name } las cartas que dicen que se entregó o cambió una nota. La página de las notas lo dice.
   *[due-moved] Con esto dejan de enviarse a { $name } las cartas que dicen que se ha movido una fecha de entrega. Las páginas y el calendario muestran la fecha que vale.
} Las demás cartas, y las que tratan de la cuenta, siguen llegando. La elección puede cambiarse en la página de la cuenta.
letters-stop-button = Dejar de enviarlas
letters-stopped = Ya no llega ninguna carta de este tipo.
letters-stopped-about = La elección puede cambiarse en la página de la cuenta.
done-address-woken = Las cartas van otra vez a esta dirección.
done-letter-again = La carta se intenta otra vez.

## ---- help ----
help-title = Ayuda
help-what = Tympan lleva una clase de litografía sobre plancha: cada plancha y lo que se le hizo, quién está habilitado para qué, cuándo puede empezar el paso siguiente y antes de cuándo, las notas y lo que hay en el estante.
help-facts = Lo que ha ocurrido se guarda siempre, sea cual sea la regla que incumplió. Una regla puede rechazar un comienzo; entonces dice por qué y quién puede ayudar. Una estimación se llama siempre estimación.
help-caution = Antes del ácido, el disolvente o la prensa
help-caution-1 = La ficha de datos de seguridad, las normas locales y la oficina de seguridad de su escuela van antes que todo lo que aquí se dice.
help-caution-2 = Una habilitación dice que a alguien se le demostró una cosa o que la hizo ante un testigo. No quita ningún peligro.
help-caution-3 = Cuando algo ha ido mal: primero los primeros auxilios y la ayuda, luego quien esté de guardia, después el registro.
help-begin = Cómo empezar
help-begin-1 = Abra el enlace de su invitación y elija una contraseña. Funciona una sola vez; si es demasiado viejo, pida otro en la página de contraseña olvidada.
help-begin-2 = Entre. La primera página dice qué va primero para usted.
help-begin-3 = Todas las páginas funcionan en un teléfono, sin scripts, y se imprimen.
help-student = Estudiantes
help-student-1 = «Hoy» nombra lo único que usted puede hacer ahora, antes de cuándo, y a qué espera.
help-student-2 = Empiece una estampa desde su proyecto; su primera plancha empieza con ella. El proyecto dice qué se pide y cuándo es la entrega para usted.
help-student-3 = En la página de la plancha, empiece un paso y termínelo según trabaja. Lo que hizo sin la página lo anota allí, a su hora o desde una ficha.
help-student-4 = Cuando se rechaza un comienzo, la página dice qué regla fue y, si es una habilitación, quién puede darla y cuándo está.
help-student-5 = Antes de irse, guarde la plancha: engomada, alisada fina y seca, en su lugar del estante. Sus planchas las ven solo usted y quienes enseñan.
help-assistant = Ayudantes
help-assistant-1 = «Habilitaciones» muestra los temas que usted puede observar. Marque quién hizo qué ante usted, repáselo y firme; durante diez minutos puede retirarlo.
help-assistant-2 = «Taller» contiene el horario, los puestos y el estante. Mantenga al día las etiquetas, las fechas y lo que no se debe usar.
help-assistant-3 = Usted ve planchas, no calificaciones.
help-instructor = Docentes
help-instructor-1 = «Hoy» dice quién le espera; «Clase» tiene todas las planchas en una página, primero las que van con retraso o atascadas.
help-instructor-2 = Los ajustes de la clase contienen reglas, asignaturas, horas y proyectos. Una fecha de entrega se mueve para toda la clase, o se pone a una persona, con un motivo.
help-instructor-3 = Lo que se hizo fuera de las reglas espera hasta que usted lo resuelva. Puede permitir un comienzo contra una regla, con un motivo; donde falte una habilitación, esté al lado.
help-instructor-4 = Las notas son suyas hasta que las devuelva. Los estudiantes las leen entonces con el cálculo, línea por línea.
help-instructor-5 = Una corrección nunca sobrescribe: la primera entrada se queda, con quién la cambió, cuándo y por qué.
help-safety-officer = Responsables de seguridad
help-safety-officer-1 = «Habilitaciones» muestra el registro de formación de una clase: a quién se le demostró qué, quién lo hizo, hasta cuándo vale y qué versión de la lista abarcó.
help-safety-officer-2 = Usted no ve calificaciones ni fotos.
help-records = Personal de registro académico
help-records-1 = Usted lee las listas de clase y los registros de formación de las clases de su escuela.
help-records-2 = Usted no ve fotos ni notas de la crítica.
help-keeper = Responsables de la escuela
help-keeper-1 = «Escuela» es donde se crean periodos, talleres y clases y se añaden personas.
help-keeper-2 = Dé a quien no tiene correo la hoja para imprimir de su invitación, y entréguela en mano.
help-keeper-3 = Una persona responsable de la escuela no abre calificaciones ni fotos. Siempre hay al menos una.
help-ask = A quién preguntar
help-ask-account = Una cuenta, una invitación perdida
help-ask-account-who = a su docente, o a una persona responsable de su escuela
help-ask-plate = Una plancha, un paso, una fecha de entrega, una nota
help-ask-plate-who = a su docente
help-ask-sign-off = Una habilitación
help-ask-sign-off-who = a quien pueda observarla; «Habilitaciones» dice quién
help-ask-safety = Un producto químico, residuos, una lesión, un casi accidente
help-ask-safety-who = a quien esté de guardia, y luego a la oficina de seguridad de su escuela
help-ask-enrolment = Matrícula, bajas, retiradas
help-ask-enrolment-who = a la oficina de registro de su escuela
help-ask-program = Este programa hace algo raro
help-ask-program-who = a una persona responsable de su escuela; diga qué página, cuándo y qué esperaba

## ---- dates: names of days and months ----
dates-day-1 = lun
dates-day-2 = mar
dates-day-3 = mié
dates-day-4 = jue
dates-day-5 = vie
dates-day-6 = sáb
dates-day-7 = dom
dates-month-1 = ene
dates-month-2 = feb
dates-month-3 = mar
dates-month-4 = abr
dates-month-5 = may
dates-month-6 = jun
dates-month-7 = jul
dates-month-8 = ago
dates-month-9 = sept
dates-month-10 = oct
dates-month-11 = nov
dates-month-12 = dic

## ---- el curso de una plancha, la marcha de una clase ----
course-title = Línea de tiempo
course-desc = Del { $from } al { $to }: { $steps } { $steps ->
    [one] paso empezado
   *[other] pasos empezados
}, { $photos } { $photos ->
    [one] foto
   *[other] fotos
}. La tabla de al lado tiene todas las horas.
course-key = Relleno: trabajo. Una línea fina: un reposo antes del paso. Un contorno: bajo goma. Un anillo: una foto. Línea discontinua: ahora.
course-rest = Reposo antes de { $step }
course-under-gum = Bajo goma
course-photos = Fotos
course-photo = Foto { $number }: { $kind }
course-due = Entrega
course-due-later = entrega { $day }
course-now = ahora
course-table = Todas las horas en una tabla
course-what = Qué
course-from = Desde
course-to = Hasta
course-goes-on = sigue
progress-title = Dónde están las planchas
progress-desc = Cuántas planchas de cada proyecto esperan un paso o están en él. Las planchas sustituidas no se cuentan.
progress-step = Paso
progress-through = entregadas o guardadas

## ---- buscar: personas, estampas, planchas, recipientes ----
search-title = Buscar
search-q = Qué buscar
search-q-hint = Unas letras, o el número de una plancha. Las mayúsculas y los acentos no importan.
search-button = Buscar
layout-find-hint = Nombre, estampa, número
search-prints = Estampas
search-more = { $count ->
    [one] Hay una coincidencia más. Escriba más letras para verla.
   *[other] Hay { $count } coincidencias más. Escriba más letras para ver menos.
}
search-finished = acabado
search-nothing = Nada coincide con «{ $asked }».
search-about-student = Puede buscar sus propias estampas por el título, sus propias planchas por el número y los recipientes del estante por su letra o por lo que llevan escrito.
search-about-staff = Puede buscar personas por el nombre, estampas por el título o por quién las hace, planchas por el número y recipientes por su letra o por lo que llevan escrito.
search-about-safety = Puede buscar los recipientes del estante por su letra o por lo que llevan escrito.
search-about-records = Puede buscar las personas de la clase por el nombre.

## ---- layout, trouble, words used everywhere ----
layout-skip = Ir al contenido
layout-pages = Páginas
layout-today = Hoy
layout-tonight = Esta noche
layout-class = Clase
layout-plates = Planchas
layout-sign-offs = Habilitaciones
layout-grades = Calificaciones
layout-studio = Taller
layout-records = Registros
layout-people = Personas
layout-sign-out = Salir
layout-school = Escuela
layout-settings = Ajustes
layout-help = Ayuda
layout-help-nav = En otra parte
layout-first-page = Sus clases
layout-studio-line = { $studio }. Lavaojos: { $eyewash }. La ficha de datos de seguridad, las normas locales y la oficina de seguridad van antes que todo lo que aquí se dice.
trouble-title = Eso no funcionó
trouble-home = A la primera página
trouble-not-found = Aquí no hay nada, o nada que le corresponda ver.
trouble-sign-in-first = Entre primero; lo que envió no se guardó.
trouble-confirm-first = Escriba otra vez su contraseña antes de esto; lo que envió no se guardó.
trouble-not-yours = Esta página es de otra función en la clase. No se cambió nada.
trouble-unsealed = Este formulario era demasiado viejo o venía de otro sitio, así que no se guardó nada. Vuelva atrás, recargue la página y envíelo otra vez.
trouble-once-clash = Este formulario ya se envió con otro contenido. Está guardado lo que se envió primero; lo que envió ahora, no. Vuelva atrás para copiar lo que escribió, recargue la página y rellénelo de nuevo.
trouble-taken = Alguien guardó lo mismo hace un momento. Vale lo suyo; lo que usted envió no se guardó. Recargue la página para verlo.
trouble-missing = Algo de lo elegido aquí ya no existe, así que no se guardó nada. Recargue la página y elija otra vez.
trouble-busy = Hay demasiadas personas trabajando ahora mismo y esto no pudo hacerse. Inténtelo otra vez dentro de unos segundos; no se guardó nada.
trouble-broken = Algo se rompió por nuestra parte y no se guardó nada. Inténtelo otra vez; si sigue así, cuente al docente qué estaba haciendo.
trouble-too-many = Demasiados intentos. Espere { $seconds } { $seconds ->
    [one] segundo
   *[other] segundos
} e inténtelo otra vez.
shared-why = Motivo
shared-why-other = Otro motivo
shared-reason = Con sus palabras
shared-reason-hint = Si es otro motivo, tiene que figurar aquí; si no, puede quedar vacío.
reason-missing = Falta esto. Elija uno de los motivos de arriba, o escriba uno aquí.
reason-words-missing = Eligió otro motivo: escríbalo aquí en pocas palabras, o elija uno de los demás.
bring-back = Recuperarlo
bring-back-about = Durante diez minutos, tal como estaba.
bring-back-nothing = Esto ya está, o no fue usted quien lo quitó en los últimos diez minutos. Mire la lista y añádalo de nuevo si falta.
done-brought-back = Ya está otra vez, tal como estaba.
form-summary = Mire esto otra vez, por favor:
form-chosen-none = Ninguno
form-choose = Elija
form-stale = Otra persona guardó esto mientras usted escribía, así que lo suyo no se guardó todavía. Compare lo que vale ahora con lo que escribió; guardar otra vez pone lo suyo en su lugar.
form-stands = Ahora vale aquí: «{ $value }». Lo que escribió se conserva en el campo.
form-stands-empty = Ahora esto está vacío. Lo que escribió se conserva en el campo.
form-stands-ticked = Ahora esto está marcado. Su elección se conserva.
form-stands-unticked = Ahora esto no está marcado. Su elección se conserva.
form-optional = (puede quedar vacío)
form-empty = Falta esto. Rellénelo.
form-too-large = El formulario es mayor que { $limit }. Envíe menos de una vez.
form-file-too-large = El archivo es mayor que { $megabytes } MB. Elija uno más pequeño.
form-fields-too-large = El formulario contiene más texto del que cabe. Envíe menos de una vez.
form-one-file = Hay varios archivos. Envíe uno cada vez.
form-too-many-parts = El formulario tiene demasiadas partes. Envíe menos de una vez.
form-cut-short = El formulario llegó incompleto. Envíelo otra vez.
form-not-utf8 = El formulario llegó en una codificación que no se puede leer. Recargue la página y envíelo otra vez.
form-control-characters = En este texto hay caracteres de control invisibles. Escríbalo de nuevo en lugar de pegarlo.
form-too-long = Esto tiene { $length } caracteres; caben { $most } como máximo. Acórtelo.
form-out-of-range = «{ $value }» queda fuera de lo posible aquí: de { FIGURE($least) } a { FIGURE($most) }.
form-no-number =
    { $places ->
        [0] «{ $value }» no es un número sin decimales, como 12.
       *[other] «{ $value }» no es un número con { $places } decimales como máximo, como 12 o 4,3.
    }
form-no-date = «{ $value }» no es un día. Escríbalo como año-mes-día, por ejemplo 2026-11-25.
form-no-local-time = «{ $value }» no es un día y una hora. Escríbalo como 2026-11-25T16:30.
form-no-time = «{ $value }» no es una hora del día. Escríbala como 16:30.
form-no-choice = «{ $value }» no es una de las opciones. Elija de la lista.
days-weekday-1 = lunes
days-weekday-2 = martes
days-weekday-3 = miércoles
days-weekday-4 = jueves
days-weekday-5 = viernes
days-weekday-6 = sábado
days-weekday-7 = domingo

### At the table

table-title = En la mesa
table-go = A la mesa
table-leave = Salir
table-splash = Salpicadura: ácido o disolvente en la piel o en un ojo
table-no-pack = Este teléfono no lleva nada para esta plancha. Abra «Hoy» una vez donde haya señal; después funciona aquí sin ella.
table-without-script = Los relojes necesitan scripts. Empiece el paso en la página de la plancha y escriba allí después su registro.
table-mix = Mezcla
table-drops = Gotas
table-drops-counted = contadas en la goma, nunca la goma en el ácido
table-drops-confirm = Contadas
table-drops-again = Volver a contar
table-who-else = ¿Quién más está en la sala?
table-begin = Empezar: diez segundos hasta la primera aplicación
table-over = Está hecho: goma puesta, guantes fuera
table-more = Una aplicación más
table-stop = Algo va mal: parar el reloj
table-back = Deshacer el último toque
table-left-off = Dejado a medias; un docente lo mira antes de que la plancha siga
table-keep = Guardarlo
table-card = Ficha
table-card-print = Una ficha en papel
table-card-about = Para una mesa sin teléfono. Imprímala, escriba en ella a lápiz y anótela después, marcada como venida de una ficha.
table-card-tell = Anotar lo que dice la ficha
table-card-fields = Para escribir a mano
table-card-day = Día
table-card-gum = Goma: recipiente y cantidad
table-card-acid = Ácido: recipiente y gotas, contadas en la goma
table-card-tool = Puesto con; segunda persona
table-card-down = Engomada, pulida, talco
table-held-until = { $topic }: { $grade }, hasta { $until }
table-held = { $topic }: { $grade }
table-fold = Instrucciones
table-photo = Foto de la prueba
table-say-photos-wait = { $count } fotos guardadas en este teléfono, sin enviar. Se envían por sí solas cuando hay señal.
table-say-photo-stored = La foto está guardada con las pruebas de la plancha.
table-pictures = Cómo debe verse y cómo se ve lo que está mal
table-picture-right = Cómo debe verse
table-picture-wrong = Cómo se ve lo que está mal
table-ask = Pedir al personal, con un toque
table-asked = Pedido. Su lugar en la cola está en la página de la plancha.
table-ask-none = Sin señal: vaya y pregunte.
table-ask-refused = No se pudo pedir desde aquí. Pida en la página de la plancha.
table-kept = Guardado
table-on = Seguir a la plancha
table-open = Abrirla
table-next-plate = La misma mezcla en otra plancha suya
table-unsent = Aún sin enviar
table-unsent-about = Lo que contó en la mesa está solo en este teléfono. Se envía por sí solo cuando usted tiene aquí la sesión abierta y hay señal.
table-unsent-stay = Seguir con la sesión
table-unsent-leave = Salir y dejarlo en este teléfono
table-unsent-drop = Salir y tirarlo
table-anothers-entry = Esta entrada es de otra persona. Se queda en el teléfono hasta que esa persona entre aquí.
table-another-step = Esta entrada habla de otro paso que aquel con que empezó. Anótelo en la página de la plancha.
table-ended-before-began = Acabó antes de empezar. Compruebe el reloj del teléfono y anótelo en la página de la plancha con las horas correctas.
table-clock-ahead = El reloj del teléfono iba { $minutes } min adelantado; corregido
table-clock-behind = El reloj del teléfono iba { $minutes } min atrasado; corregido
table-clock-doubtful = El reloj del teléfono no se pudo corregir con seguridad; la hora es una estimación
table-in-room = en la sala: { $who }
table-account = Contado por segunda vez por { $who }: de { $began } a { $ended }
table-account-ph = pH medido { FIGURE($value) }
table-say-lead = Empieza en { $seconds } s
table-say-on = Queda de { $length } en la aplicación { $part } de { $parts }
table-say-lead-for = Lista la aplicación { $part } de { $parts }: en la plancha dentro de
table-say-done-part = Aplicación { $part }
table-say-under-way = en marcha
table-say-not-yet = todavía no
table-say-half = Ha pasado la mitad de la aplicación { $part }.
table-say-ten = Quedan diez segundos de la aplicación { $part }.
table-say-end = La aplicación { $part } ha acabado: retírela.
table-say-all-over = Todas las aplicaciones han acabado. Retire la mezcla y ponga goma fresca.
table-say-stopped = Parado a las { $at }. Retire la mezcla y ponga goma fresca.
table-say-goes-on = En marcha desde { $at }
table-say-from = desde { $at }
table-say-lift = hasta { $at }
table-say-plan = Aplicaciones: { $applications }, cada una tras diez segundos para prepararse. Corren por sí solas; las gotas y los tiempos son los de la última vez, o los de la tabla de su clase.
table-say-mix-words = { $volume } de { $gum }, { $drops } gotas de { $acid }
table-say-drops-at = Contadas a las { $at }.
table-say-drops-wrong = Gotas: «{ $drops }» no es un número entero de 1 a 1000. Escriba cuántas contó.
table-say-drops-in = { $drops } gotas, como se contaron a las { $at }.
table-say-drops-many = { $drops } gotas son muchas más de las que suele llevar una acidulación. Si es lo que contó, pulse otra vez.
table-say-drops-not-counted = Las gotas no se confirmaron antes de que corriera el reloj. Compruebe que su número es correcto.
table-say-measured = Cronometrado: { $times }. Corrija lo que fue distinto.
table-say-waits = { $count } guardadas en este teléfono, sin enviar. Se envían por sí solas cuando hay señal.
table-say-others-wait = { $count } de otra persona esperan en este teléfono, hasta que entre aquí.
table-say-sending = Enviando…
table-say-stored = Guardado en el registro del taller.
table-say-sign-in = Guardado en este teléfono. Entre otra vez para enviarlo.
table-say-wake-refused = Aquí el teléfono no mantiene encendida su pantalla; los relojes siguen aunque se duerma.
table-say-needs-you = Algo en una entrada le necesita: { $says }
table-say-new-version = Hay una versión nueva de esta página.
table-say-take-it = Tomarla
etches-log-sheets = Hojas
etches-log-note = Nota
done-table-kept = Guardado.
done-table-kept-outside = Guardado y marcado: se hizo fuera de las reglas. Lo resuelve un docente.

### A tablet that stands in the studio

tablet-list = Tabletas del taller
tablet-about = Una tableta en el estante recoge lo que pasa en la mesa para la plancha cuyo número se escribe. No muestra ningún nombre, nota ni foto y no abre ninguna otra página. Lo que se cuenta allí queda marcado, porque nadie tiene la sesión abierta.
tablet-there = Tabletas
tablet-since = está allí desde { $since }
tablet-to-open = Abra esta dirección en la tableta, una vez, hasta { $until }:
tablet-too-late = Su dirección no se abrió a tiempo. Retírela y haga otra.
tablet-made = hecha por { $who }, { $at }
tablet-withdraw = Retirar
tablet-none = No hay ninguna tableta en este taller.
tablet-add = Hacer una tableta
tablet-name = Cómo se llama, por ejemplo «tableta de la mesa de acidular»
tablet-title = La tableta del taller
tablet-which = ¿Qué plancha?
tablet-number = Número de la plancha
tablet-go = A la mesa
tablet-no-plate = Ninguna plancha en marcha aquí tiene el número { $number }. Está en la etiqueta de la plancha y en su página.
tablet-away = Aquí no hay señal. Las planchas cuya mesa se abrió en esta tableta en los últimos siete días se abren sin ella. Para otra, escriba en su ficha impresa y anótelo después.
tablet-not-along = La tableta no lleva consigo la plancha { $number }.
tablet-along = En esta tableta
tablet-idle = Ahora no hay nada que hacer en la mesa con esta plancha. Su estudiante encuentra en Hoy qué sigue y qué lo detiene.
tablet-several = Varias clases tienen una plancha { $number }. ¿Cuál es?
tablet-nobody = Nadie tiene la sesión abierta en esta tableta. Lo que se cuenta aquí se guarda para quien tiene la plancha, y queda marcado.
tablet-open = Esta es la tableta del taller
tablet-open-about = Pulse esto en la tableta que va a quedar en el taller, no en su propio teléfono.
tablet-address-used = Esta dirección ya se abrió, o pasó su tiempo. Haga una nueva en la página de las tabletas del taller.
tablet-told = en la tableta del taller
done-tablet-made = Hecha. Abra la dirección en la tableta.
done-tablet-withdrawn = Retirada. Ya no abre nada.

### Splash

splash-title = Salpicadura
splash-water-first = Primero agua
splash-helper = Esta pantalla es para quien ayuda.
splash-left = Siga enjuagando
splash-over = Han pasado quince minutos. Siga enjuagando si todavía duele, y haga lo que digan las personas a las que llamó.
splash-since = enjuagando desde { $at }
splash-until = al menos hasta { $at }
splash-one = Lleve a la persona al lavaojos o al grifo. Enjuague ya con mucha agua, con los párpados abiertos.
splash-two = Fuera la ropa y las lentes de contacto mientras se enjuaga, si salen con facilidad.
splash-three = Pida ayuda. Diga qué fue, dónde cayó, y esta sala.
splash-four = Quédese con la persona. Lleve la ficha de datos de seguridad.
splash-eyewash = Lavaojos
splash-eyewash-unknown = Junto a la pila; busque la señal verde.
splash-call = Llamar
splash-call-unknown = El número de emergencia de su país, y luego la oficina de seguridad del campus.
splash-address = Esta sala
splash-address-unknown = Léala en la puerta.
splash-sheet = Ficha de datos
splash-sheet-words = La ficha de datos de seguridad de lo que fue dice qué más hacer. Llévela.
splash-sheets = Lo que dicen en breve las fichas de datos
splash-sheets-about = Según lo anotó el personal; la ficha completa dice más. Muéstrelo a quien ayude.
splash-first-aid = Enjuagar durante quince minutos son los primeros auxilios habituales para ácidos y disolventes (práctica común; la ficha de datos del producto puede pedir más tiempo).
splash-authority = La ficha de datos de seguridad, las normas locales y la oficina de seguridad de la escuela van antes que esta página.

## Lo que la oficina de registro toma de un periodo

records-title = Registros de cada periodo
records-about = El paquete de cada periodo contiene todas las tablas que la oficina de registro puede tomar: listas, estampas, planchas, acidulaciones, autorizaciones y notas presentadas. Quién lo toma queda anotado entre lo que se ha tomado de cada clase.
records-download = Descargar el paquete de { $term }
records-all-submitted = presentadas las { $students }
records-submitted = presentadas { $submitted } de { $students }
records-empty = Todavía no hay ningún periodo. Una persona responsable de la escuela crea los periodos y las clases.
records-link = Registros de cada periodo
records-readme = Tablas de { $classes }, a { $at }. Cada clase tiene una carpeta de ficheros CSV (RFC 4180, UTF-8); columns.csv dice qué hay en cada columna. Las notas son las presentadas. manifest-sha256.txt nombra el SHA-256 de cada fichero. Este paquete contiene expedientes académicos de personas con nombre: quien lo guarda lo protege.

## Long work

progress-label = Cuánto falta
progress-sending = Van en camino [sent] de [all] MB.
progress-reading = Ha llegado todo. Se está leyendo.
progress-lost = Se perdió la conexión por el camino. No se guardó nada; lo que eligió sigue aquí. Envíelo otra vez.
progress-making = Se está preparando el archivo: [seconds] s hasta ahora. La descarga empieza sola.
progress-here = El archivo está listo y la descarga ha empezado.
