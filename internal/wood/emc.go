package wood

// Celsius is a temperature in degrees Celsius.
type Celsius float64

// Humidity is the relative humidity of air as a fraction: 0.45 is 45 %.
type Humidity float64

var emcBy = Source{"FPL-GTR-190 eq. 4-5", Checked}

// EMC is the moisture content that wood comes to in still air (FPL-GTR-190
// eq. 4-5, SI form). It agrees with the handbook's table 4-2 to 0.06 % MC.
// It holds from -2 to 60 °C and 5 to 95 % humidity, the span of that table;
// outside it returns a *RangeError.
func EMC(t Celsius, h Humidity) (Moisture, error) {
	// The table starts at 30 °F = -1.11 °C; makers round, hence -2.
	if err := within("temperature", float64(t), -2, 60, "°C", emcBy); err != nil {
		return 0, err
	}
	if err := within("relative humidity", 100*float64(h), 5, 95, "%", emcBy); err != nil {
		return 0, err
	}
	T := float64(t)
	w := 349 + 1.29*T + 0.0135*T*T
	k := 0.805 + 0.000736*T - 0.00000273*T*T
	k1 := 6.27 - 0.00938*T - 0.000303*T*T
	k2 := 1.91 + 0.0407*T - 0.000293*T*T
	kh := k * float64(h)
	return Moisture(1800 / w * (kh/(1-kh) + (k1*kh+2*k1*k2*kh*kh)/(1+k1*kh+k1*k2*kh*kh))), nil
}
