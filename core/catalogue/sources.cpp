// SPDX-License-Identifier: Apache-2.0
#include "core/catalogue/sources.hpp"

namespace pullsheet::catalogue {
namespace {

struct Entry {
    std::string_view key;
    std::string_view citation;
};

// The bibliography: one entry per source.
constexpr Entry entries[] = {
    {"16 CFR 306",
     "United States Federal Trade Commission, Automotive Fuel Ratings, Certification and Posting, 16 CFR "
     "part 306"},
    {"AFDC", "United States Department of Energy, Alternative Fuels Data Center, Fuel Properties Comparison"},
    {"API MPMS 11.1",
     "American Petroleum Institute, Manual of Petroleum Measurement Standards, chapter 11.1 (ASTM D1250), "
     "table 54B, 1980"},
    {"Anderson 2010",
     "J. E. Anderson, U. Kramer, S. A. Mueller, T. J. Wallington, Octane numbers of ethanol– and "
     "methanol–gasoline blends estimated from molar concentrations, Energy & Fuels 24 (2010) 6576"},
    {"Anderson 2012",
     "J. E. Anderson et al., High octane number ethanol–gasoline blends: quantifying the potential benefits "
     "in the United States, Fuel 97 (2012) 585"},
    {"Brettschneider 1979",
     "J. Brettschneider, Berechnung des Luftverhältnisses λ von Luft-Kraftstoff-Gemischen und des Einflusses "
     "von Meßfehlern auf λ, Bosch Technische Berichte 6 (1979) 4, 177–186"},
    {"Fox 1973", "G. T. Fox, On the physics of drag racing, American Journal of Physics 41 (1973) 311"},
    {"Gillespie 1992", "T. D. Gillespie, Fundamentals of Vehicle Dynamics, SAE, 1992, chapters 2 and 4"},
    {"Heywood 1988", "J. B. Heywood, Internal Combustion Engine Fundamentals, McGraw-Hill, 1988"},
    {"ICAO Doc 7488",
     "International Civil Aviation Organization, Manual of the ICAO Standard Atmosphere, Doc 7488, 3rd "
     "edition, 1993"},
    {"ISO 2533", "ISO 2533:1975, Standard Atmosphere"},
    {"IUPAC 2021", "IUPAC, Standard atomic weights of the elements, 2021"},
    {"NIST SP 811",
     "NIST Special Publication 811, Guide for the Use of the International System of Units, 2008 edition, "
     "appendix B"},
    {"OIML R 22",
     "International Organization of Legal Metrology, R 22, International alcoholometric tables, 1975"},
    {"Picard 2008",
     "A. Picard, R. S. Davis, M. Gläser, K. Fujii, Revised formula for the density of moist air (CIPM-2007), "
     "Metrologia 45 (2008) 149–155"},
    {"Pullsheet", "Pullsheet, this project's own definition"},
    {"SI Brochure 2019", "BIPM, The International System of Units (SI), 9th edition, 2019"},
    {"Wong 2001", "J. Y. Wong, Theory of Ground Vehicles, 3rd edition, Wiley, 2001, chapter 3"},
    {"common practice", "Common practice of the trade, no published source"},
    {"80/1269/EEC",
     "Council Directive 80/1269/EEC on the engine power of motor vehicles, as amended by 88/195/EEC"},
    {"Bernoulli", "D. Bernoulli, Hydrodynamica, 1738: flow through an orifice"},
    {"DIN 70020", "DIN 70020, Kraftfahrzeugbau; Leistung, editions of 1976 to 1986"},
    {"Fritsch & Butland 1984",
     "F. N. Fritsch, J. Butland, A method for constructing local monotone piecewise cubic interpolants, SIAM "
     "Journal on Scientific and Statistical Computing 5 (1984) 300"},
    {"ISO 1585", "ISO 1585:1992 (2020), Road vehicles, Engine test code, Net power"},
    {"JIS D 1001", "JIS D 1001:1993, Road vehicles, Engine power test code"},
    {"SAE J1349",
     "SAE J1349, Engine power test code, spark ignition and compression ignition, net power rating, form of "
     "1985 to June 1990"},
    {"SAE J1826", "SAE J1826, Turbocharger gas stand test code"},
    {"SAE J1832", "SAE J1832, Low pressure gasoline fuel injector"},
    {"SAE J607", "SAE J607, Small spark ignition engine test code (withdrawn)"},
    {"UN R85", "UN Regulation No. 85, Measurement of the net power, annex 5, with supplements 7 and 8"},
    {"Alefeld, Potra & Shi 1995",
     "G. E. Alefeld, F. A. Potra, Y. Shi, Algorithm 748: enclosing zeros of continuous functions, ACM "
     "Transactions on Mathematical Software 21 (1995) 327"},
    {"Birge 1932",
     "R. T. Birge, The calculation of errors by the method of least squares, Physical Review 40 (1932) 207"},
    {"Brent 1973", "R. P. Brent, Algorithms for Minimization without Derivatives, Prentice-Hall, 1973"},
    {"GUM",
     "JCGM 100:2008, Evaluation of measurement data, Guide to the expression of uncertainty in measurement"},
    {"ISO 5725-6",
     "ISO 5725-6:1994, Accuracy (trueness and precision) of measurement methods and results, part 6, 4.1.4"},
    {"NIST e-Handbook", "NIST/SEMATECH e-Handbook of Statistical Methods, section 1.3.5.3"},
    {"Savitzky & Golay 1964",
     "A. Savitzky, M. J. E. Golay, Smoothing and differentiation of data by simplified least squares "
     "procedures, Analytical Chemistry 36 (1964) 1627"},
    {"Student 1908", "Student (W. S. Gosset), The probable error of a mean, Biometrika 6 (1908) 1"},
    {"Welch 1947", "B. L. Welch, The generalization of 'Student's' problem, Biometrika 34 (1947) 28"},
    {"Colebrook 1939",
     "C. F. Colebrook, Turbulent flow in pipes, with particular reference to the transition region between "
     "the smooth and rough pipe laws, Journal of the ICE 11 (1939) 133; J. H. Darcy (1857), J. Weisbach "
     "(1845)"},
    {"Dixon & Hall 2014",
     "S. L. Dixon, C. A. Hall, Fluid Mechanics and Thermodynamics of Turbomachinery, 7th edition, "
     "Butterworth-Heinemann, 2014, chapters 1, 2 and 8"},
    {"Incropera & DeWitt 2007",
     "F. P. Incropera, D. P. DeWitt, Fundamentals of Heat and Mass Transfer, 6th edition, Wiley, 2007, "
     "chapter 11"},
    {"NACA 1135",
     "Ames Research Staff, Equations, Tables, and Charts for Compressible Flow, NACA Report 1135, 1953"},
    {"Chen & Flynn 1965",
     "S. K. Chen, P. F. Flynn, Development of a single cylinder compression ignition research engine, SAE "
     "650733, 1965"},
    {"Douaud & Eyzat 1978",
     "A. M. Douaud, P. Eyzat, Four-octane-number method for predicting the anti-knock behavior of fuels and "
     "engines, SAE 780080, 1978"},
    {"GRI-Mech 3.0", "G. P. Smith et al., GRI-Mech 3.0, thermodynamic data (NASA polynomials), 1999"},
    {"Kalghatgi 2001",
     "G. T. Kalghatgi, Fuel anti-knock quality, part I: engine studies, SAE 2001-01-3584, 2001"},
    {"Livengood & Wu 1955",
     "J. C. Livengood, P. C. Wu, Correlation of autoignition phenomena in internal combustion engines and "
     "rapid compression machines, 5th Symposium on Combustion (1955) 347"},
    {"Wahlström & Eriksson 2011",
     "J. Wahlström, L. Eriksson, Modelling diesel engines with a variable-geometry turbocharger and exhaust "
     "gas recirculation, Proceedings of the Institution of Mechanical Engineers, Part D 225 (2011) 960"},
    {"Watson & Janota 1982",
     "N. Watson, M. S. Janota, Turbocharging the Internal Combustion Engine, Macmillan, 1982"},
    {"Wiebe 1970",
     "I. I. Wiebe, Brennverlauf und Kreisprozess von Verbrennungsmotoren, VEB Verlag Technik, 1970"},
    {"Woschni 1967",
     "G. Woschni, A universally applicable equation for the instantaneous heat transfer coefficient in the "
     "internal combustion engine, SAE 670931, 1967"},
    {"ETRTO",
     "European Tyre and Rim Technical Organisation, Standards Manual, design dimensions; ISO 4000-1"},
    {"Çengel & Boles 2015",
     "Y. A. Çengel, M. A. Boles, Thermodynamics: An Engineering Approach, 8th edition, McGraw-Hill, 2015, "
     "table A-27"},
};

}  // namespace

std::string_view citation(std::string_view key) {
    for (const Entry& entry : entries)
        if (entry.key == key) return entry.citation;
    return {};
}

std::vector<std::string_view> citation_keys() {
    std::vector<std::string_view> keys;
    for (const Entry& entry : entries) keys.push_back(entry.key);
    return keys;
}

}  // namespace pullsheet::catalogue
