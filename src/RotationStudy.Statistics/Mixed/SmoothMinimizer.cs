using MathNet.Numerics.LinearAlgebra.Double;
using MathNet.Numerics.LinearAlgebra.Factorization;

namespace RotationStudy.Statistics.Mixed;

/// <summary>Minimises a smooth function of a few parameters with an exact gradient, and proves that it stands at a minimum.</summary>
/// <remarks>
/// Quasi-Newton steps (BFGS, backtracking; Nocedal &amp; Wright 2006, ch. 6) until the value is flat to rounding, then Newton steps
/// with the Hessian by central differences of the gradient. It stops when the gain that a Newton step promises (half the
/// squared Newton decrement) is below the tolerance and no direction curves downwards. The Hessian is kept for several steps
/// and taken again unless the minimum lies close to where it was taken.
/// </remarks>
internal static class SmoothMinimizer
{
    private const double DifferenceStep = 1e-4;
    private const double LongestStep = 2;

    // At a variance of zero the factor of a covariance can be turned without changing the covariance: along that direction
    // the minimum is a valley floor, and a promised fall below this is nothing.
    private const double FlatGain = 1e-6;
    private const int NewtonStepsBeforeFlat = 4;
    private const int MostQuasiNewtonSteps = 200;

    /// <summary>Function value at x; fills the gradient.</summary>
    internal delegate double Objective(ReadOnlySpan<double> x, Span<double> gradient);

    /// <param name="f">The function.</param>
    /// <param name="start">Where to start.</param>
    /// <param name="what">What is fitted, for the message of a failure.</param>
    /// <param name="tolerance">The promised fall of the function at which to stop.</param>
    /// <param name="closeness">Relative distance from the minimum at which the Hessian may have been taken.</param>
    /// <exception cref="NotConvergedError">The stop rule was not met.</exception>
    internal static Minimum Minimize(Objective f, double[] start, string what, double tolerance = 1e-13, double closeness = 2e-6)
    {
        State at = new(start);
        at.Value = f(at.X, at.Gradient);
        int iterations = QuasiNewton(f, at);
        for (int newton = 0; newton < 25; newton++)
        {
            double[] origin = [.. at.X];
            double[] hessian = Hessian(f, at.X);
            Curvature curvature = new(hessian, at.X.Length);
            double gain = curvature.Step(at.Gradient, out double[] step);
            bool stuck = !(Polish(f, at, step) || Search(f, at, step));
            for (int again = 0; !stuck && !curvature.CurvesDown && again < 5; again++)
            {
                gain = curvature.Step(at.Gradient, out step);
                if (gain <= tolerance || !Polish(f, at, step))
                    break;
            }
            bool sharp = (gain <= tolerance || (stuck && gain <= FlatGain)) && IsClose(origin, at.X, closeness);
            bool flat = newton >= NewtonStepsBeforeFlat && gain <= FlatGain;
            if (!curvature.CurvesDown && (sharp || flat))
                return new Minimum(at.X, at.Value, at.Gradient, hessian, iterations + newton);
        }
        throw new NotConvergedError($"{what} did not reach a minimum of the deviance", "Use fewer random terms or slopes, rescale the columns, or check for rows that no model can fit.", iterations);
    }

    // So close that the Hessian taken at one place serves at the other.
    private static bool IsClose(double[] a, double[] b, double closeness)
    {
        for (int i = 0; i < a.Length; i++)
        {
            if (Math.Abs(a[i] - b[i]) > closeness * Math.Max(0.1, Math.Abs(b[i])))
                return false;
        }
        return true;
    }

    /// <summary>Central differences of the gradient, symmetrised.</summary>
    internal static double[] Hessian(Objective f, ReadOnlySpan<double> x)
    {
        int n = x.Length;
        double[] hessian = new double[n * n];
        double[] moved = x.ToArray();
        double[] up = new double[n];
        double[] down = new double[n];
        for (int i = 0; i < n; i++)
        {
            double h = DifferenceStep * Math.Max(0.1, Math.Abs(x[i]));
            moved[i] = x[i] + h;
            f(moved, up);
            moved[i] = x[i] - h;
            f(moved, down);
            moved[i] = x[i];
            for (int j = 0; j < n; j++)
            {
                hessian[(i * n) + j] += 0.5 * (up[j] - down[j]) / (2 * h);
                hessian[(j * n) + i] += 0.5 * (up[j] - down[j]) / (2 * h);
            }
        }
        return hessian;
    }

    private static int QuasiNewton(Objective f, State at)
    {
        int n = at.X.Length;
        double[] inverse = new double[n * n];
        double[] step = new double[n];
        Reset(inverse, n, at.Gradient);
        for (int iteration = 1; iteration <= MostQuasiNewtonSteps; iteration++)
        {
            double slope = 0;
            for (int i = 0; i < n; i++)
            {
                step[i] = 0;
                for (int j = 0; j < n; j++)
                    step[i] -= inverse[(i * n) + j] * at.Gradient[j];
                slope += step[i] * at.Gradient[i];
            }
            if (-slope < Math.Max(1e-10, 1e-13 * Math.Abs(at.Value)))
                return iteration;
            double[] before = [.. at.X];
            double[] gradientBefore = [.. at.Gradient];
            if (!Search(f, at, step))
                return iteration;
            Update(inverse, n, before, gradientBefore, at);
        }
        return MostQuasiNewtonSteps;
    }

    // Backtracks until the value falls by a share of what the slope promises (Armijo), fitting a parabola.
    private static bool Search(Objective f, State at, double[] step)
    {
        int n = at.X.Length;
        double longest = 0;
        double slope = 0;
        for (int i = 0; i < n; i++)
        {
            longest = Math.Max(longest, Math.Abs(step[i]));
            slope += step[i] * at.Gradient[i];
        }
        double t = longest > LongestStep ? LongestStep / longest : 1;
        double[] x = new double[n];
        double[] gradient = new double[n];
        for (int halving = 0; halving < 40; halving++)
        {
            for (int i = 0; i < n; i++)
                x[i] = at.X[i] + (t * step[i]);
            double value = f(x, gradient);
            if (value <= at.Value + (1e-4 * t * slope))
            {
                x.CopyTo(at.X, 0);
                gradient.CopyTo(at.Gradient, 0);
                at.Value = value;
                return true;
            }
            double parabola = -slope * t * t / (2 * (value - at.Value - (t * slope)));
            t = double.IsFinite(parabola) ? Math.Clamp(parabola, 0.1 * t, 0.5 * t) : 0.25 * t;
        }
        return false;
    }

    // A full step, taken when it halves the gradient: near the minimum the value is flat to rounding, the gradient is not.
    private static bool Polish(Objective f, State at, double[] step)
    {
        double[] x = [.. at.X];
        double[] gradient = new double[x.Length];
        for (int i = 0; i < x.Length; i++)
        {
            if (Math.Abs(step[i]) > 0.1)
                return false;
            x[i] += step[i];
        }
        double value = f(x, gradient);
        if (!(value <= at.Value + (1e-12 * Math.Abs(at.Value))) || gradient.Sum(g => g * g) >= 0.25 * at.Gradient.Sum(g => g * g))
            return false;
        x.CopyTo(at.X, 0);
        gradient.CopyTo(at.Gradient, 0);
        at.Value = value;
        return true;
    }

    // BFGS: the inverse Hessian that maps the change of the gradient to the change of place.
    private static void Update(double[] inverse, int n, double[] before, double[] gradientBefore, State at)
    {
        double[] s = new double[n];
        double[] y = new double[n];
        double[] hy = new double[n];
        double sy = 0;
        for (int i = 0; i < n; i++)
        {
            s[i] = at.X[i] - before[i];
            y[i] = at.Gradient[i] - gradientBefore[i];
            sy += s[i] * y[i];
        }
        if (!(sy > 1e-14))
        {
            Reset(inverse, n, at.Gradient);
            return;
        }
        double yhy = 0;
        for (int i = 0; i < n; i++)
        {
            for (int j = 0; j < n; j++)
                hy[i] += inverse[(i * n) + j] * y[j];
            yhy += y[i] * hy[i];
        }
        for (int i = 0; i < n; i++)
        {
            for (int j = 0; j < n; j++)
                inverse[(i * n) + j] += ((1 + (yhy / sy)) * s[i] * s[j] / sy) - (((hy[i] * s[j]) + (s[i] * hy[j])) / sy);
        }
    }

    // A first step of a quarter at most.
    private static void Reset(double[] inverse, int n, double[] gradient)
    {
        double norm = Math.Sqrt(gradient.Sum(g => g * g));
        Array.Clear(inverse);
        for (int i = 0; i < n; i++)
            inverse[(i * n) + i] = norm > 0 ? 0.25 / norm : 1;
    }

    /// <summary>Where the minimum lies.</summary>
    /// <param name="X">Parameters.</param>
    /// <param name="Value">Function value.</param>
    /// <param name="Gradient">Gradient there.</param>
    /// <param name="Hessian">Hessian there, row by row.</param>
    /// <param name="Iterations">Quasi-Newton and Newton steps.</param>
    internal sealed record Minimum(double[] X, double Value, double[] Gradient, double[] Hessian, int Iterations);

    /// <summary>The eigenvalues and vectors of a Hessian, and steps made from them.</summary>
    private sealed class Curvature
    {
        private readonly Evd<double> eigen;
        private readonly int n;
        private readonly double largest;

        internal Curvature(double[] hessian, int n)
        {
            this.n = n;
            eigen = DenseMatrix.Create(n, n, (i, j) => hessian[(i * n) + j]).Evd(MathNet.Numerics.LinearAlgebra.Symmetricity.Symmetric);
            for (int k = 0; k < n; k++)
                largest = Math.Max(largest, Math.Abs(eigen.EigenValues[k].Real));
            for (int k = 0; k < n; k++)
                CurvesDown |= eigen.EigenValues[k].Real < -1e-5 * largest;
        }

        internal bool CurvesDown { get; }

        /// <summary>The Newton step, downhill even along directions that curve down, and the fall that it promises.</summary>
        internal double Step(double[] gradient, out double[] step)
        {
            step = new double[n];
            double gain = 0;
            for (int k = 0; k < n; k++)
            {
                double curvature = eigen.EigenValues[k].Real;
                double along = 0;
                for (int i = 0; i < n; i++)
                    along += eigen.EigenVectors[i, k] * gradient[i];
                if (curvature < -1e-5 * largest && along == 0)
                    along = 1e-3 * Math.Abs(curvature);
                double size = Math.Max(Math.Abs(curvature), 1e-7 * largest);
                gain += size > 0 ? along * along / (2 * size) : 0;
                for (int i = 0; i < n; i++)
                    step[i] -= size > 0 ? along / size * eigen.EigenVectors[i, k] : 0;
            }
            return gain;
        }
    }

    private sealed class State(double[] start)
    {
        internal double[] X { get; } = [.. start];

        internal double[] Gradient { get; } = new double[start.Length];

        internal double Value { get; set; }
    }
}
