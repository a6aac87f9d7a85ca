using RotationStudy.Statistics.Regression;
using RotationStudy.Statistics.Solvers;

namespace RotationStudy.Statistics.Tests.Regression;

/// <summary>Weighted least-squares steps made by hand, to test robust variances apart from any estimator.</summary>
internal static class WorkingFits
{
    internal static WorkingLeastSquares Linear(DesignMatrix x, double[] y, double[] weights)
    {
        int p = x.Columns;
        double[] information = new double[p * p];
        CrossProduct.Weighted(x, weights, information);
        double[] wy = [.. y];
        for (int i = 0; i < weights.Length; i++)
            wy[i] *= weights[i];
        double[] right = new double[p];
        CrossProduct.WithVector(x, wy, right);
        SmallCholesky cholesky = SmallCholesky.Factor(information, p, x.Names);
        double[] b = cholesky.Solve(right);
        double[] mu = new double[x.Rows];
        CrossProduct.LinearPredictor(x, b, [], mu);
        double[] residuals = new double[x.Rows];
        for (int i = 0; i < residuals.Length; i++)
            residuals[i] = (weights.Length > 0 ? weights[i] : 1) * (y[i] - mu[i]);
        SymmetricMatrix bread = new(x.Names, cholesky.Inverse());
        return WorkingLeastSquares.FromBread(x, weights, residuals, b, bread, x.Rows - p);
    }

    internal static WorkingLeastSquares Logistic(DesignMatrix x, double[] y, double[] b)
    {
        int p = x.Columns;
        double[] mu = new double[x.Rows];
        CrossProduct.LinearPredictor(x, b, [], mu);
        double[] weights = new double[x.Rows];
        double[] residuals = new double[x.Rows];
        for (int i = 0; i < mu.Length; i++)
        {
            mu[i] = 1 / (1 + Math.Exp(-mu[i]));
            weights[i] = mu[i] * (1 - mu[i]);
            residuals[i] = y[i] - mu[i];
        }
        double[] information = new double[p * p];
        CrossProduct.Weighted(x, weights, information);
        SymmetricMatrix bread = new(x.Names, SmallCholesky.Factor(information, p, x.Names).Inverse());
        return WorkingLeastSquares.FromBread(x, weights, residuals, b, bread, responseVariances: weights);
    }
}
