"""What each calculation is for, in one line; known without loading any of them."""

PURPOSES = {
    "convert": "one quantity in every unit: gravity, sugar, temperature, volume, mass",
    "correct": "a hydrometer reading at the sample's temperature, brought to 20 °C",
    "must": "what honey, fruit, juice, sugar and water come to",
    "honey": "how much honey a must needs for a gravity or a strength",
    "strength": "alcohol, sugar left and attenuation from two gravities",
    "refract": "what a refractometer tells once there is alcohol, and how little",
    "sweeten": "honey or sugar for a finished mead, and what it does to it",
    "dilute": "water to reach a gravity, a strength or a volume",
    "blend": "two lots together: gravity, strength, SO2",
    "feed": "nitrogen for the yeast: how much, of what, when",
    "sulfite": "sulfite for the pH, in grams of potassium metabisulfite",
    "sorbate": "potassium sorbate by alcohol and pH, and when not to",
    "prime": "sugar for bubbles, its pressure, and whether the bottle bears it",
    "pressure": "a closed vessel: bar now, at the end, hours until too much",
    "headspace": "room above the liquid: foam, air, warming and cooling",
    "bottles": "how many bottles it fills, of which sizes",
}
